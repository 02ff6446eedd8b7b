-- The secret is encrypted with the installation's key; a code counts once, so the last step used is kept.
create table second_factor (
	account_id uuid primary key references account,
	secret bytea not null,
	begun_at timestamptz not null,
	confirmed_at timestamptz,
	last_step bigint
);

create table recovery_code (
	account_id uuid not null references account,
	code_hash bytea not null,
	used_at timestamptz,
	primary key (account_id, code_hash)
);
