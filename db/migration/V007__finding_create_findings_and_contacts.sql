create table finding (
	id uuid primary key default uuidv7(),
	code text not null unique check (code = btrim(code) and code <> ''),
	patient_id uuid not null references patient,
	session_id uuid references session,
	kind text not null check (kind in (
		'lump', 'delayed_inflammatory_nodule', 'granuloma', 'swelling_expected', 'swelling_prolonged', 'bruise', 'erythema',
		'pain', 'infection_local', 'infection_spreading', 'herpes_reactivation', 'pih', 'hypopigmentation',
		'vascular_compromise', 'visual_symptom', 'neuro_symptom', 'skin_necrosis', 'allergy_local', 'anaphylaxis',
		'la_toxicity', 'methaemoglobinaemia', 'syncope', 'paraesthesia', 'burn', 'fat_loss', 'new_scar', 'acne_flare', 'other')),
	region region,
	scar_id uuid references scar,
	first_noted_on date not null,
	grade smallint check (grade between 1 and 5),
	serious boolean,
	gone_on date,
	closed_on date,
	closed_by uuid references staff,
	closing_reason text,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	foreign key (session_id, patient_id) references session (id, patient_id),
	foreign key (scar_id, patient_id) references scar (id, patient_id),
	check ((closed_on is null) = (closed_by is null))
);
create index finding_by_patient on finding (patient_id, kind);
create index finding_by_session on finding (session_id);

create table finding_observation (
	id uuid primary key default uuidv7(),
	finding_id uuid not null references finding,
	observed_on date not null,
	reporter text not null check (reporter in ('patient', 'practitioner', 'front_desk')),
	channel text not null check (channel in ('phone', 'link', 'visit')),
	present boolean not null,
	size_mm numeric check (size_mm > 0),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (finding_id, observed_on, reporter, channel)
);

create table contact (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	session_id uuid not null references session,
	contacted_on date not null,
	channel text not null check (channel in ('phone', 'link', 'visit')),
	outcome text not null check (outcome in ('reached', 'no_answer', 'declined')),
	lumps_present boolean,
	pain_nrs smallint check (pain_nrs between 0 and 10),
	note text,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (session_id, contacted_on, channel),
	foreign key (session_id, patient_id) references session (id, patient_id)
);
create index contact_by_patient on contact (patient_id);
