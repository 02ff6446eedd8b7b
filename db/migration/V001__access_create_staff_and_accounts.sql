-- Staff are people who appear in the records; an account lets one of them sign in.

create extension if not exists btree_gist;
create extension if not exists unaccent;
create extension if not exists pg_trgm;

create table staff (
	id uuid primary key default uuidv7(),
	name text not null unique check (name = btrim(name) and name <> '')
);

create table account (
	id uuid primary key default uuidv7(),
	staff_id uuid not null unique references staff,
	password text not null,
	password_expired boolean not null default false,
	active boolean not null default true,
	created_at timestamptz not null,
	version bigint not null default 0
);

create table account_role (
	account_id uuid not null references account,
	role text not null check (role in ('front_desk', 'assistant', 'practitioner', 'clinic_lead', 'administrator')),
	primary key (account_id, role)
);

-- Only the hash of a token is kept; who holds the token is the account, with all its rights and no more.
create table api_token (
	id uuid primary key default uuidv7(),
	account_id uuid not null references account,
	token_hash bytea not null unique,
	created_at timestamptz not null,
	revoked_at timestamptz
);

-- One row for every write and every opening of a patient's record. Ids only, no content.
create table audit_entry (
	id bigint generated always as identity primary key,
	at timestamptz not null,
	staff_id uuid references staff,
	action text not null check (action in ('opened', 'created', 'corrected', 'decided', 'signed_in', 'sign_in_refused', 'imported', 'exported', 'administered')),
	kind text not null,
	entry_id uuid,
	patient_id uuid,
	detail text
);
create index audit_entry_by_patient on audit_entry (patient_id, at);

-- A clinical entry is corrected by a new version; the version that it replaces is kept here, whole, by a trigger, so
-- that no code path can forget it.
create table previous_version (
	table_name text not null,
	entry_id uuid not null,
	version bigint not null,
	content jsonb not null,
	replaced_at timestamptz not null default now(),
	primary key (table_name, entry_id, version)
);

create function keep_previous_version() returns trigger language plpgsql as $$
begin
	if new.id <> old.id then
		raise exception 'the id of a % is never changed', tg_table_name;
	end if;
	if new.version <= old.version then
		raise exception 'a correction of % is a new version', tg_table_name;
	end if;
	insert into previous_version (table_name, entry_id, version, content)
	values (tg_table_name, old.id, old.version, to_jsonb(old));
	return new;
end $$;

create function refuse_deletion() returns trigger language plpgsql as $$
begin
	raise exception 'a % is corrected, not deleted', tg_table_name;
end $$;

-- Names are found without accents and in any case.
create function plain_text(value text) returns text language sql immutable parallel safe strict
	return lower(public.unaccent('public.unaccent'::regdictionary, value));
