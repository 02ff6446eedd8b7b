-- An account waits without a password until its owner chooses one; how short that may be depends on the second factor.
alter table account alter column password drop not null;
alter table account add column password_stands_alone boolean not null default true;

-- Whoever holds the code chooses the password of the account, once, within its time. Only the hash is kept.
create table invitation (
	id uuid primary key default uuidv7(),
	account_id uuid not null references account,
	code_hash bytea not null unique,
	made_at timestamptz not null,
	expires_at timestamptz not null check (expires_at > made_at),
	used_at timestamptz,
	withdrawn_at timestamptz,
	check (used_at is null or withdrawn_at is null)
);
create unique index invitation_open on invitation (account_id) where used_at is null and withdrawn_at is null;
