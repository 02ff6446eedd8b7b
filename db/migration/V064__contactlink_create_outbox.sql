-- Mail that is to go out, is going, went or did not go. What it says is put together when it goes, from the settings then in
-- force, and the link's secret is not kept here. "sending" is written and committed before the server is spoken to.
create table outbox_message (
	id uuid primary key,
	patient_id uuid not null references patient on delete cascade,
	link_id uuid not null references contact_link on delete cascade,
	recipient text not null check (recipient = btrim(recipient) and recipient <> ''),
	state text not null check (state in ('waiting', 'sending', 'sent', 'failed', 'withdrawn')),
	queued_at timestamptz not null,
	queued_by uuid references staff,
	attempts int not null default 0,
	next_attempt_at timestamptz,
	claimed_at timestamptz,
	sent_at timestamptz,
	message_id text unique,
	problem text,
	check ((state = 'waiting') = (next_attempt_at is not null)),
	check ((state = 'sent') = (sent_at is not null))
);
create index outbox_message_due on outbox_message (next_attempt_at) where state = 'waiting';
create index outbox_message_by_patient on outbox_message (patient_id);
create index outbox_message_by_link on outbox_message (link_id);
create index outbox_message_by_time on outbox_message (queued_at desc);
