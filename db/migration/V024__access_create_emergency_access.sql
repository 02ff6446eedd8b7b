-- One patient's record, opened for a while to somebody whose roles don't open it. Every use is reviewed by a clinic lead.
create table emergency_access (
	id uuid primary key default uuidv7(),
	account_id uuid not null references account,
	patient_id uuid not null references patient,
	reason text not null check (btrim(reason) <> ''),
	begun_at timestamptz not null,
	ends_at timestamptz not null check (ends_at > begun_at),
	ended_at timestamptz check (ended_at >= begun_at),
	reviewed_at timestamptz,
	reviewed_by uuid references staff,
	justified boolean,
	note text,
	check ((reviewed_at is null) = (reviewed_by is null) and (reviewed_at is null) = (justified is null))
);
create index emergency_access_by_account on emergency_access (account_id, ends_at);
create index emergency_access_unreviewed on emergency_access (begun_at) where reviewed_at is null;
create trigger emergency_access_stays before delete on emergency_access
	for each row execute function refuse_deletion();

create table emergency_opening (
	id uuid primary key default uuidv7(),
	access_id uuid not null references emergency_access,
	at timestamptz not null,
	address text not null
);
create index emergency_opening_by_access on emergency_opening (access_id, at);
create trigger emergency_opening_stays before delete on emergency_opening
	for each row execute function refuse_deletion();

alter table audit_entry drop constraint audit_entry_action_check;
alter table audit_entry add constraint audit_entry_action_check check (action in ('opened', 'created', 'corrected',
	'decided', 'signed_in', 'sign_in_refused', 'imported', 'exported', 'administered', 'emergency'));
