-- Wrong guesses by place, as marks under the installation's key: neither names nor addresses that were typed or came.
create table guess (
	kind text not null,
	place bytea not null,
	failed int not null check (failed >= 0),
	last_at timestamptz not null,
	not_before timestamptz not null,
	primary key (kind, place)
);

-- Browsers in which an account was signed in to before: somebody else's guesses never slow these down.
create table known_device (
	account_id uuid not null references account,
	device_hash bytea not null,
	first_at timestamptz not null,
	last_at timestamptz not null,
	primary key (account_id, device_hash)
);
