-- A link by which a patient answers after a session, without a sign-in. Only the hash of its secret is kept. It ends by
-- itself, by the next session, by a newer link, or because somebody takes it back.
create table contact_link (
	id uuid primary key,
	patient_id uuid not null references patient on delete cascade,
	session_id uuid not null,
	token_hash bytea not null unique check (length(token_hash) = 32),
	made_at timestamptz not null,
	made_by uuid references staff,
	expires_at timestamptz not null check (expires_at > made_at),
	ended_at timestamptz,
	ended_by uuid references staff,
	ended_why text check (ended_why in ('superseded', 'revoked')),
	foreign key (session_id, patient_id) references session (id, patient_id) on delete cascade,
	check ((ended_at is null) = (ended_why is null))
);
create unique index contact_link_in_force on contact_link (patient_id) where ended_at is null;
create index contact_link_by_session on contact_link (session_id);

-- What a patient sent, as it was sent. The contact that it became may be corrected; this is not.
create table link_answer (
	id uuid primary key,
	link_id uuid not null references contact_link on delete cascade,
	patient_id uuid not null references patient on delete cascade,
	contact_id uuid not null references contact on delete cascade,
	form_id uuid not null,
	received_at timestamptz not null,
	signs text[] not null,
	lumps text check (lumps in ('present', 'absent', 'unsure')),
	regions text[] not null,
	pain_nrs smallint check (pain_nrs between 0 and 10),
	said text check (said = btrim(said) and said <> ''),
	unique (link_id, form_id)
);
create index link_answer_by_patient on link_answer (patient_id);
create index link_answer_by_contact on link_answer (contact_id);
create trigger link_answer_is_never_edited before update on link_answer for each row execute function refuse_change();
create trigger link_answer_is_not_deleted before delete on link_answer for each row execute function refuse_deletion();
