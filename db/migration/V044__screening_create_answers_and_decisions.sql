-- What is planned for a day as far as the screening depends on it; unknown counts as planned.
create table screening_plan (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient on delete cascade,
	planned_for date not null,
	radiofrequency boolean,
	prilocaine boolean,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (patient_id, planned_for)
);

-- What was answered to an item of the screening on a day. Without confirmed_by it is a draft, which clears nothing.
create table screening_answer (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient on delete cascade,
	item text not null check (item ~ '^[a-z0-9_]{3,40}$'),
	asked_on date not null,
	answer text not null check (answer in ('yes', 'no', 'unknown')),
	asked_by uuid not null references staff,
	confirmed_by uuid references staff,
	note text check (note = btrim(note) and note <> ''),
	last_dose_on date check (last_dose_on <= asked_on),
	list_version int not null check (list_version >= 1),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (patient_id, item, asked_on)
);

-- What a licensed clinician decided on an item that is not cleared, for that day alone and as it was answered then.
create table screening_decision (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient on delete cascade,
	item text not null check (item ~ '^[a-z0-9_]{3,40}$'),
	decided_on date not null,
	about text not null check (about in ('yes', 'unknown')),
	verdict text not null check (verdict in ('may_treat', 'not_today', 'acknowledged')),
	reason text check (reason = btrim(reason) and reason <> ''),
	decided_by uuid not null references staff,
	list_version int not null check (list_version >= 1),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (patient_id, item, decided_on),
	constraint screening_decision_says_why check (verdict = 'acknowledged' or reason is not null)
);

do $$
declare
	clinical text;
begin
	foreach clinical in array array['screening_plan', 'screening_answer', 'screening_decision'] loop
		execute format('create trigger %I before update on %I for each row execute function keep_previous_version()', clinical || '_keeps_versions', clinical);
		execute format('create trigger %I before delete on %I for each row execute function refuse_deletion()', clinical || '_is_not_deleted', clinical);
	end loop;
end $$;
