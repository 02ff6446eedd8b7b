-- What an assistant typed about a session, as it was typed, until a practitioner records or discards it. It is no
-- clinical entry yet, so nothing but the drafts' own pages reads it.
create table session_draft (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	series_id uuid not null references series,
	content jsonb not null,
	written_by uuid not null references staff,
	written_at timestamptz not null,
	status text not null default 'open' check (status in ('open', 'recorded', 'discarded')),
	session_id uuid references session,
	settled_by uuid references staff,
	settled_at timestamptz,
	version bigint not null default 0,
	foreign key (series_id, patient_id) references series (id, patient_id),
	foreign key (session_id, patient_id) references session (id, patient_id),
	check ((status = 'recorded') = (session_id is not null)),
	check ((status = 'open') = (settled_at is null) and (settled_by is null) = (settled_at is null))
);
create index session_draft_open on session_draft (series_id) where status = 'open';
create trigger session_draft_keeps_versions before update on session_draft
	for each row execute function keep_previous_version();
create trigger session_draft_is_not_deleted before delete on session_draft
	for each row execute function refuse_deletion();
