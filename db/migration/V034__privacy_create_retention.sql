-- How long each kind is kept after its last entry; a kind without a rule is kept without end.
create table retention_rule (
	kind text primary key check (kind in ('record', 'draft', 'advice')),
	months int not null check (months between 1 and 1200),
	set_at timestamptz not null,
	set_by uuid references staff
);

-- What was due and is kept all the same, until it is asked for again.
create table retention_kept (
	kind text not null,
	patient_id uuid not null,
	kept_until date not null,
	reason text not null check (btrim(reason) <> ''),
	decided_at timestamptz not null,
	decided_by uuid references staff,
	primary key (kind, patient_id)
);
