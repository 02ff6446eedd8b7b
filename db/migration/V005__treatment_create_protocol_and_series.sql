create table protocol_version (
	number int primary key,
	published_at timestamptz not null,
	published_by uuid references staff,
	note text,
	base_interval_days int not null check (base_interval_days between 1 and 365),
	window_days int not null check (window_days between 0 and 365),
	extended_interval_days int not null check (extended_interval_days between 1 and 365),
	persistence_threshold_days int not null check (persistence_threshold_days between 1 and 365),
	settling_margin_days int not null check (settling_margin_days between 0 and 365),
	clearing_probability numeric not null check (clearing_probability > 0 and clearing_probability < 1),
	curve_minimum_lumps int not null check (curve_minimum_lumps >= 1),
	repeatability_minimum_pairs int not null check (repeatability_minimum_pairs >= 2),
	repeatability_minimum_patients int not null check (repeatability_minimum_patients >= 2),
	plateau_from_session int not null check (plateau_from_session >= 2),
	plateau_minimum_scars int not null check (plateau_minimum_scars >= 1),
	skin_shift_thin_days int not null check (skin_shift_thin_days between -60 and 60),
	skin_shift_medium_days int not null check (skin_shift_medium_days between -60 and 60),
	skin_shift_thick_days int not null check (skin_shift_thick_days between -60 and 60),
	contact_days int[] not null,
	contact_repeat_days int not null check (contact_repeat_days between 1 and 90)
);

create function refuse_change() returns trigger language plpgsql as $$
begin
	raise exception 'a % is never edited', tg_table_name;
end $$;
create trigger protocol_version_is_never_edited before update or delete on protocol_version
	for each row execute function refuse_change();

-- Base interval and its dependence on skin thickness, persistence, the longer interval: common practice, no source.
-- Everything else is a proposal that a clinic replaces by publishing its own version.
insert into protocol_version values (
	1, now(), null, 'The values that Seriatim starts with', 42, 14, 56, 14, 14, 0.90, 30, 10, 5, 3, 3, 0, 0, 0, '{1,3,7,15}', 7);

create table series (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	number int not null check (number >= 1),
	goal text,
	planned_sessions int check (planned_sessions between 1 and 99),
	status text not null check (status in ('open', 'completed', 'stopped')),
	ended_on date,
	reason text,
	protocol_version int not null references protocol_version,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (patient_id, number),
	unique (id, patient_id),
	check (status <> 'open' or ended_on is null)
);
