-- What was done about a finding, as the clinic's own record: a class and free words, never a dose that somebody proposes.
create table finding_action (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient on delete cascade,
	finding_id uuid not null references finding on delete cascade,
	done_on date not null,
	action text not null check (action in ('watched', 'massage', 'compression', 'warmth', 'cold', 'aspiration', 'enzyme_injection',
		'steroid_injection', 'device', 'biopsy', 'excision', 'medicine', 'referral', 'hospital', 'other')),
	carried_out text not null check (carried_out in ('clinic', 'home', 'elsewhere')),
	done_by uuid references staff,
	description text check (description = btrim(description) and description <> ''),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	constraint finding_action_in_the_clinic_is_somebodys check ((carried_out = 'clinic') = (done_by is not null)),
	constraint finding_action_of_no_class_is_described check (action <> 'other' or description is not null)
);
create index finding_action_by_finding on finding_action (finding_id, done_on);
create index finding_action_by_patient on finding_action (patient_id);
create trigger finding_action_keeps_versions before update on finding_action
	for each row execute function keep_previous_version();
create trigger finding_action_is_not_deleted before delete on finding_action
	for each row execute function refuse_deletion();
