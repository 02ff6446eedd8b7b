-- Whether a patient wants e-mail. Nobody chose: it may be sent where there is an address.
create table mail_choice (
	id uuid primary key,
	patient_id uuid not null unique references patient on delete cascade,
	opted_out boolean not null,
	chosen_by text not null check (chosen_by in ('patient', 'staff')),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text
);
create trigger mail_choice_keeps_versions before update on mail_choice
	for each row execute function keep_previous_version();
create trigger mail_choice_is_not_deleted before delete on mail_choice
	for each row execute function refuse_deletion();
