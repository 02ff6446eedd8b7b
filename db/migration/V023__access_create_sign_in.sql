-- One row for every sign-in. It is over when it was ended; one without a living HTTP session has expired.
create table sign_in (
	id uuid primary key default uuidv7(),
	account_id uuid not null references account,
	at timestamptz not null,
	completed_at timestamptz,
	address text not null,
	browser text not null,
	ended_at timestamptz,
	ended_by text check (ended_by in ('owner', 'administrator', 'deactivation', 'new_password')),
	check ((ended_at is null) = (ended_by is null))
);
create index sign_in_by_account on sign_in (account_id, at desc);

-- Sessions from before know no sign-in; everybody signs in once more.
delete from spring_session;
