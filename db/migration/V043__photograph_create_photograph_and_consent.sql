-- What may be done with photographs, purpose by purpose. A consent ends by a withdrawal and is then given anew.
create table photograph_consent (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient on delete cascade,
	purpose text not null check (purpose in ('care', 'teaching', 'publication')),
	given_on date not null,
	withdrawn_on date check (withdrawn_on >= given_on),
	note text check (note = btrim(note) and note <> ''),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text
);
create unique index photograph_consent_in_force on photograph_consent (patient_id, purpose) where withdrawn_on is null;
create index photograph_consent_by_patient on photograph_consent (patient_id);
create trigger photograph_consent_keeps_versions before update on photograph_consent
	for each row execute function keep_previous_version();
create trigger photograph_consent_is_not_deleted before delete on photograph_consent
	for each row execute function refuse_deletion();

-- What is known of a photograph. The picture itself is a file of the data folder that is named by the id. The two
-- landmarks, shares of the width and of the height, lay one picture upon another.
create table photograph (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient on delete cascade,
	taken_on date not null,
	taken_at time,
	view text not null check (view in ('front', 'oblique_left', 'oblique_right', 'lateral_left', 'lateral_right', 'close')),
	yaw_degrees smallint check (yaw_degrees between -90 and 90),
	region region,
	scar_id uuid,
	light_set text not null check (light_set in ('flat', 'raking')),
	camera text check (camera = btrim(camera) and camera <> ''),
	distance_cm smallint check (distance_cm between 1 and 500),
	taken_by uuid references staff,
	mirrored boolean not null,
	quality_ok boolean,
	quality_note text check (quality_note = btrim(quality_note) and quality_note <> ''),
	width int not null check (width > 0),
	height int not null check (height > 0),
	bytes int not null check (bytes > 0),
	sha256 bytea not null check (length(sha256) = 32),
	source_sha256 bytea not null check (length(source_sha256) = 32),
	first_x numeric(6, 5) check (first_x between 0 and 1),
	first_y numeric(6, 5) check (first_y between 0 and 1),
	second_x numeric(6, 5) check (second_x between 0 and 1),
	second_y numeric(6, 5) check (second_y between 0 and 1),
	set_aside boolean not null default false,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	-- scars are deleted by an erasure only, and the photographs go with them
	foreign key (scar_id, patient_id) references scar (id, patient_id) on delete cascade,
	constraint photograph_close_up_shows_something check (view <> 'close' or region is not null or scar_id is not null),
	constraint photograph_says_what_is_wrong_with_it check (quality_ok is distinct from false or quality_note is not null),
	constraint photograph_has_both_landmarks_or_none
		check (num_nulls(first_x, first_y, second_x, second_y) in (0, 4))
);
-- The same file sent twice, as after a lost connection, is one photograph.
create unique index photograph_once on photograph (patient_id, source_sha256) where not set_aside;
create index photograph_by_patient on photograph (patient_id, taken_on);
create index photograph_by_scar on photograph (scar_id) where scar_id is not null;
create trigger photograph_keeps_versions before update on photograph
	for each row execute function keep_previous_version();
create trigger photograph_is_not_deleted before delete on photograph
	for each row execute function refuse_deletion();

-- Files whose photographs were erased and that still have to go: a list that outlives a crash in between.
create table photograph_file_to_remove (
	photograph_id uuid primary key
);
create function list_photograph_file_for_removal() returns trigger language plpgsql as $$
begin
	insert into photograph_file_to_remove (photograph_id) values (old.id) on conflict do nothing;
	return null;
end $$;
create trigger photograph_leaves_its_file after delete on photograph
	for each row execute function list_photograph_file_for_removal();
