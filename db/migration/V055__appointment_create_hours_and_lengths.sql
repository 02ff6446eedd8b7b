-- When practitioners work, by the clinic's clocks: a range of one weekday, for a while. What was entered by mistake is taken
-- back, not deleted.
create table working_hours (
	id uuid primary key default uuidv7(),
	practitioner_id uuid not null references staff,
	weekday smallint not null check (weekday between 1 and 7),
	starts time not null,
	ends time not null,
	valid_from date not null,
	valid_until date,
	taken_back boolean not null default false,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	check (ends > starts),
	check (valid_until >= valid_from),
	constraint working_hours_overlap exclude using gist (
		practitioner_id with =, weekday with =, daterange(valid_from, valid_until, '[]') with &&,
		int4range((extract(hour from starts) * 60 + extract(minute from starts))::int,
			(extract(hour from ends) * 60 + extract(minute from ends))::int) with &&) where (not taken_back)
);
create index working_hours_by_practitioner on working_hours (practitioner_id, weekday);

-- Days on which the clinic is closed or, where one is named, a practitioner is away.
create table closed_days (
	id uuid primary key default uuidv7(),
	practitioner_id uuid references staff,
	first_day date not null,
	last_day date not null,
	note text check (note = btrim(note) and note <> ''),
	taken_back boolean not null default false,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	check (last_day >= first_day),
	constraint closed_clinic_says_why check (practitioner_id is not null or note is not null)
);
create index closed_days_by_day on closed_days (last_day) where not taken_back;

-- How long a visit takes, and how long before its start the patient comes for the numbing cream.
create table visit_length (
	id uuid primary key default uuidv7(),
	purpose text not null unique check (purpose in ('treatment', 'review', 'assessment', 'outcome')),
	minutes smallint not null check (minutes between 5 and 480),
	numbing_minutes smallint not null check (numbing_minutes between 0 and 300),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text
);
insert into visit_length (purpose, minutes, numbing_minutes)
values ('treatment', 45, 45), ('review', 20, 0), ('assessment', 30, 0), ('outcome', 30, 0);

do $$
declare kept text;
begin
	foreach kept in array array['working_hours', 'closed_days', 'visit_length'] loop
		execute format('create trigger %I before update on %I for each row execute function keep_previous_version()', kept || '_keeps_versions', kept);
		execute format('create trigger %I before delete on %I for each row execute function refuse_deletion()', kept || '_is_not_deleted', kept);
	end loop;
end $$;

-- What a booking by hand says beside what files carry: an own time for numbing, why it stands where it usually would not,
-- and the window that held when this was allowed.
alter table appointment
	add column numbing_minutes smallint check (numbing_minutes between 0 and 300),
	add column exceptions text[] not null default '{}',
	add column exception_reason text check (exception_reason = btrim(exception_reason) and exception_reason <> ''),
	add column window_first date,
	add column window_last date,
	add constraint appointment_exception_has_a_reason check (exceptions = '{}' or exception_reason is not null);
create index appointment_by_start on appointment (starts_at);
create index appointment_by_practitioner on appointment (practitioner_id, starts_at);
create index appointment_by_patient on appointment (patient_id, starts_at);
