-- A patient's consent to treatment as it was given, by the document that proves it. It ends by a withdrawal and is then given anew.
create table treatment_consent (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient on delete cascade,
	given_on date not null,
	document_reference text not null check (document_reference = btrim(document_reference) and document_reference <> ''),
	withdrawn_on date check (withdrawn_on >= given_on),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text
);
create unique index treatment_consent_once_a_day on treatment_consent (patient_id, given_on) where withdrawn_on is null;
create index treatment_consent_by_patient on treatment_consent (patient_id);

-- Body weight by the day on which it was taken, beside what a session says of its own day.
create table body_weight (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient on delete cascade,
	weighed_on date not null,
	weight_kg numeric not null check (weight_kg > 0 and weight_kg <= 500),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (patient_id, weighed_on)
);

do $$
declare
	clinical text;
begin
	foreach clinical in array array['treatment_consent', 'body_weight'] loop
		execute format('create trigger %I before update on %I for each row execute function keep_previous_version()', clinical || '_keeps_versions', clinical);
		execute format('create trigger %I before delete on %I for each row execute function refuse_deletion()', clinical || '_is_not_deleted', clinical);
	end loop;
end $$;
