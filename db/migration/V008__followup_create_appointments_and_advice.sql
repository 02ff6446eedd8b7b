-- offset_minutes keeps the time zone offset in which the time was written, so that an export holds the value as given.
create table appointment (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	practitioner_id uuid not null references staff,
	starts_at timestamptz not null,
	ends_at timestamptz not null,
	starts_offset_minutes smallint not null check (starts_offset_minutes between -1080 and 1080),
	ends_offset_minutes smallint not null check (ends_offset_minutes between -1080 and 1080),
	purpose text not null check (purpose in ('treatment', 'review', 'assessment', 'outcome')),
	status text not null check (status in ('booked', 'arrived', 'completed', 'cancelled', 'no_show')),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (patient_id, practitioner_id, starts_at),
	check (ends_at > starts_at),
	constraint appointment_without_double_booking exclude using gist (
		practitioner_id with =, tstzrange(starts_at, ends_at) with &&) where (status in ('booked', 'arrived'))
);

-- The curve and the repeatability that advice rests on, as they were on one day.
create table snapshot (
	number int primary key,
	made_at timestamptz not null,
	as_of date not null,
	content jsonb not null
);
create trigger snapshot_is_never_edited before update or delete on snapshot
	for each row execute function refuse_change();

-- An advice keeps what it rested on, so that it can be computed again as it was. The current one of a series is the
-- one not yet replaced.
create table advice (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	series_id uuid not null references series,
	session_id uuid not null references session,
	computed_at timestamptz not null,
	as_of date not null,
	protocol_version int not null references protocol_version,
	snapshot_number int not null references snapshot,
	facts jsonb not null,
	content jsonb not null,
	status text not null check (status in ('hold', 'wait_for_contact', 'review_plan', 'window')),
	first_day date,
	target_day date,
	last_day date,
	next_contact_day date,
	replaced_at timestamptz,
	check ((status = 'hold') = (first_day is null)),
	check ((first_day is null) = (target_day is null) and (first_day is null) = (last_day is null)),
	check (first_day <= target_day and target_day <= last_day)
);
create unique index advice_current on advice (series_id) where replaced_at is null;

create table advice_decision (
	id uuid primary key default uuidv7(),
	advice_id uuid not null references advice,
	decided_at timestamptz not null,
	decided_by uuid not null references staff,
	accepted boolean not null,
	reason text,
	first_day date,
	last_day date,
	check (accepted or (reason is not null and reason <> '')),
	check (first_day <= last_day)
);
create index advice_decision_by_advice on advice_decision (advice_id, decided_at);
create trigger advice_decision_is_never_edited before update or delete on advice_decision
	for each row execute function refuse_change();

-- Every clinical entry keeps its previous versions and is never deleted.
do $$
declare clinical text;
begin
	foreach clinical in array array['scar', 'scar_assessment', 'scar_count', 'pore_assessment', 'global_assessment',
		'series', 'session', 'preparation', 'injection', 'finding', 'finding_observation', 'contact', 'appointment'] loop
		execute format('create trigger %I before update on %I for each row execute function keep_previous_version()', clinical || '_keeps_versions', clinical);
		execute format('create trigger %I before delete on %I for each row execute function refuse_deletion()', clinical || '_is_not_deleted', clinical);
	end loop;
end $$;
