-- The anaesthetic cream from its start to its stop; without a stop it is on.
create table numbing (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient on delete cascade,
	started_at timestamptz not null,
	stopped_at timestamptz check (stopped_at >= started_at),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text
);
create unique index numbing_is_on_once on numbing (patient_id) where stopped_at is null;
create index numbing_by_patient on numbing (patient_id, started_at);

-- How many minutes before a session the patient has to be there for the cream.
create table numbing_plan (
	id uuid primary key default uuidv7(),
	patient_id uuid not null unique references patient on delete cascade,
	minutes int not null check (minutes between 0 and 300),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text
);

do $$
declare
	clinical text;
begin
	foreach clinical in array array['numbing', 'numbing_plan'] loop
		execute format('create trigger %I before update on %I for each row execute function keep_previous_version()', clinical || '_keeps_versions', clinical);
		execute format('create trigger %I before delete on %I for each row execute function refuse_deletion()', clinical || '_is_not_deleted', clinical);
	end loop;
end $$;
