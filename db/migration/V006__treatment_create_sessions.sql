create table session (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	series_id uuid not null references series,
	number int not null check (number >= 1),
	treated_on date not null,
	practitioner_id uuid not null references staff,
	weight_kg numeric check (weight_kg > 0 and weight_kg <= 500),
	combination text check (combination in ('none', 'rf_before', 'rf_after')),
	rf_depth_mm numeric check (rf_depth_mm > 0 and rf_depth_mm <= 10),
	topical_minutes int check (topical_minutes >= 0),
	oral_analgesic boolean,
	vibration boolean,
	pain_nrs smallint check (pain_nrs between 0 and 10),
	massage boolean,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (patient_id, number),
	unique (id, patient_id),
	foreign key (series_id, patient_id) references series (id, patient_id)
);
create index session_by_series on session (series_id, number);

create table preparation (
	id uuid primary key default uuidv7(),
	session_id uuid not null references session,
	number int not null check (number >= 1),
	product text not null check (product <> ''),
	lot text,
	expires_on date,
	vial_mg numeric check (vial_mg > 0),
	diluent_ml numeric check (diluent_ml >= 0),
	stock_drawn_ml numeric check (stock_drawn_ml >= 0),
	added_diluent_ml numeric check (added_diluent_ml >= 0),
	lidocaine_percent numeric check (lidocaine_percent >= 0 and lidocaine_percent <= 10),
	lidocaine_ml numeric check (lidocaine_ml >= 0),
	discarded_ml numeric check (discarded_ml >= 0),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (session_id, number),
	unique (id, session_id),
	check (stock_drawn_ml <= diluent_ml)
);

create table injection (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	session_id uuid not null references session,
	number int not null check (number >= 1),
	preparation_id uuid references preparation,
	region region not null,
	scar_id uuid references scar,
	target text not null check (target in ('pores', 'scar')),
	layer text check (layer in ('superficial_dermis', 'mid_dermis', 'deep_dermis', 'below_dermis')),
	points int check (points >= 1),
	volume_ml numeric check (volume_ml >= 0),
	needle_gauge int check (needle_gauge between 10 and 40),
	needle_mm numeric check (needle_mm > 0),
	blanching boolean,
	bleeding boolean,
	base_lifted boolean,
	lump_raised boolean,
	second_direction boolean,
	pain_nrs smallint check (pain_nrs between 0 and 10),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (session_id, number),
	foreign key (session_id, patient_id) references session (id, patient_id),
	foreign key (preparation_id, session_id) references preparation (id, session_id),
	foreign key (scar_id, patient_id) references scar (id, patient_id)
);
create index injection_by_patient on injection (patient_id);
create index injection_by_scar on injection (scar_id);

-- Session numbers rise with their days. Checked at the end of the transaction, so that an import may come in any order.
create function session_days_rise() returns trigger language plpgsql as $$
begin
	if exists (
		select from session earlier join session later on later.patient_id = earlier.patient_id and later.number > earlier.number
		where earlier.patient_id = new.patient_id and later.treated_on < earlier.treated_on) then
		raise exception check_violation using
			message = 'the day of a session falls as its number rises', constraint = 'session_days_rise';
	end if;
	return null;
end $$;
create constraint trigger session_days_rise after insert or update on session
	deferrable initially deferred for each row execute function session_days_rise();
