create table patient (
	id uuid primary key default uuidv7(),
	record_number text not null unique check (record_number = btrim(record_number) and record_number <> ''),
	family_name text,
	given_name text,
	birth_date date,
	sex text check (sex in ('female', 'male', 'other')),
	phone text,
	email text,
	phototype smallint check (phototype between 1 and 6),
	skin_thickness text check (skin_thickness in ('thin', 'medium', 'thick')),
	sebum text check (sebum in ('dry', 'normal', 'combination', 'oily')),
	search_text text generated always as (plain_text(coalesce(family_name, '') || ' ' || coalesce(given_name, '') || ' ' || coalesce(family_name, '') || ' ' || record_number)) stored,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text
);
create index patient_by_search_text on patient using gin (search_text gin_trgm_ops);
create trigger patient_keeps_versions before update on patient for each row execute function keep_previous_version();
create trigger patient_is_not_deleted before delete on patient for each row execute function refuse_deletion();

-- A record number that was ever given is never given to somebody else, whatever becomes of the patient's entry.
create table record_number_given (
	record_number text primary key,
	patient_id uuid not null
);

create function remember_record_number() returns trigger language plpgsql as $$
begin
	insert into record_number_given (record_number, patient_id) values (new.record_number, new.id)
	on conflict (record_number) do nothing;
	if (select patient_id from record_number_given where record_number = new.record_number) <> new.id then
		raise exception unique_violation using
			message = 'record number was given to another patient',
			constraint = 'record_number_given_pkey';
	end if;
	return null;
end $$;
create trigger patient_record_number_is_remembered after insert or update of record_number on patient
	for each row execute function remember_record_number();
