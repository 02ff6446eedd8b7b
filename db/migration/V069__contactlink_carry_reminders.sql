-- The outbox carries reminders of appointments too. One patient gets one at most for one time: who is booked again for a time
-- from which the reminder was withdrawn has that one wait again.
alter table outbox_message
	alter column link_id drop not null,
	add column purpose text not null default 'link' check (purpose in ('link', 'reminder')),
	add column appointment_id uuid references appointment on delete cascade,
	add column appointment_starts_at timestamptz,
	add column token_hash bytea unique check (length(token_hash) = 32),
	add constraint outbox_message_is_about_something check (
		purpose = 'link' and link_id is not null and num_nonnulls(appointment_id, appointment_starts_at, token_hash) = 0
		or purpose = 'reminder' and link_id is null and num_nonnulls(appointment_id, appointment_starts_at, token_hash) = 3);
alter table outbox_message alter column purpose drop default;
create unique index outbox_message_once_for_a_time on outbox_message (patient_id, appointment_starts_at)
	where purpose = 'reminder';
create index outbox_message_by_appointment on outbox_message (appointment_id);

-- Who wants e-mail may still want no reminders.
alter table mail_choice add column no_reminders boolean not null default false;

-- When the clinic reminds of appointments, and in which words. A version is never edited; without days none is sent.
create table reminder_settings (
	number int primary key,
	published_at timestamptz not null,
	published_by uuid references staff,
	days smallint check (days between 1 and 14),
	subject text check (subject <> '' and subject !~ '[[:cntrl:]]'),
	body text check (body like '%{date}%' and body like '%{time}%'),
	check (days is null or num_nonnulls(subject, body) = 2)
);
create trigger reminder_settings_are_never_edited before update or delete on reminder_settings
	for each row execute function refuse_change();
comment on table reminder_settings is 'Rights of the service: select, insert';

insert into reminder_settings (number, published_at) values (1, now());
