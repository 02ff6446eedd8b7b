create domain region as text check (value in (
	'forehead', 'glabella', 'temple_left', 'temple_right', 'periorbital_left', 'periorbital_right', 'nose',
	'cheek_medial_left', 'cheek_medial_right', 'cheek_lateral_left', 'cheek_lateral_right', 'nasolabial_left',
	'nasolabial_right', 'perioral', 'chin', 'jawline_left', 'jawline_right', 'neck'));

create table scar (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	label text not null check (label = btrim(label) and label <> ''),
	region region not null,
	type text not null check (type in ('ice_pick', 'boxcar', 'rolling', 'linear', 'fold', 'hypertrophic', 'keloid', 'macular', 'unclassified')),
	map_x numeric check (map_x between 0 and 1),
	map_y numeric check (map_y between 0 and 1),
	first_recorded_on date not null,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (patient_id, label),
	unique (id, patient_id),
	check ((map_x is null) = (map_y is null))
);

-- patient_id is repeated so that the database itself can hold that a scar and its assessment are of one patient.
create table scar_assessment (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	scar_id uuid not null references scar,
	assessed_on date not null,
	assessor_id uuid not null references staff,
	repeat smallint not null default 0 check (repeat in (0, 1)),
	length_mm numeric check (length_mm > 0 and length_mm <= 300),
	width_mm numeric check (width_mm > 0 and width_mm <= 100),
	depth_mm numeric check (depth_mm between 0 and 10),
	depth_method text check (depth_method in ('estimated', 'gauge', 'ultrasound', 'imaging_3d', 'other')),
	depth_class text check (depth_class in ('minimal', 'shallow', 'deep')),
	severity smallint check (severity between 0 and 4),
	response smallint check (response between -1 and 4),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (scar_id, assessed_on, assessor_id, repeat),
	foreign key (scar_id, patient_id) references scar (id, patient_id)
);
create index scar_assessment_by_patient on scar_assessment (patient_id, assessed_on);

-- Elastolysis is counted for the ECCA score; it is no type of a tracked scar.
create table scar_count (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	region region not null,
	type text not null check (type in ('ice_pick', 'boxcar', 'rolling', 'linear', 'fold', 'hypertrophic', 'keloid', 'macular', 'unclassified', 'elastolysis')),
	assessed_on date not null,
	assessor_id uuid not null references staff,
	count int not null check (count >= 0),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (patient_id, region, type, assessed_on, assessor_id)
);

create table pore_assessment (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	region region not null,
	assessed_on date not null,
	assessor_id uuid not null references staff,
	grade smallint check (grade between 0 and 4),
	pores_per_cm2 numeric check (pores_per_cm2 >= 0),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (patient_id, region, assessed_on, assessor_id)
);

create table global_assessment (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	assessed_on date not null,
	assessor_id uuid not null references staff,
	scale text not null check (scale <> ''),
	item text not null check (item <> ''),
	value numeric not null,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (patient_id, assessed_on, assessor_id, scale, item)
);
