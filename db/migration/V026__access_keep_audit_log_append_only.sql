-- From where an entry was written and by which way in; with what mark. The mark is made with the installation's key, which
-- is not in the database, so that nobody can add or alter an entry who has the database alone. Entries from before have
-- none. Its uid makes every entry unlike any other, so that no copy of one passes for another.
alter table audit_entry
	add column origin text check (origin in ('sign_in', 'token', 'visitor', 'command', 'service')),
	add column origin_id uuid,
	add column command text,
	add column address text,
	add column emergency_id uuid,
	add column uid uuid unique,
	add column mark bytea,
	add check ((origin is null) = (mark is null) and (uid is null) = (mark is null)),
	add check (origin_id is null or origin in ('sign_in', 'token')),
	add check ((command is not null) = (origin = 'command') or origin is null);

-- The entries in the order in which they were sealed, each hash over the one before: one altered, removed, added or put
-- elsewhere breaks it. Sealed in batches, so that who writes an entry waits for nobody.
create table audit_seal (
	position bigint primary key check (position > 0),
	entry_id bigint not null unique references audit_entry,
	sealed_at timestamptz not null,
	from_before boolean not null,
	hash bytea not null
);

-- What is written and not yet sealed. An entry comes here with its own transaction, so a late one is not overlooked.
create table audit_waiting (
	entry_id bigint not null
);
create index audit_waiting_by_entry on audit_waiting (entry_id);
insert into audit_waiting select id from audit_entry;

comment on table audit_entry is 'Rights of the service: select, insert';
comment on table audit_seal is 'Rights of the service: select, insert';
