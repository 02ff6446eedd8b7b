-- How the clinic usually works: ranges that an entry is held against, and notes shown beside the entry. A version is
-- never edited; a clinic lead publishes the next one. Neither is an instruction, and neither refuses an entry.
create table usual_practice (
	number int primary key,
	published_at timestamptz not null,
	published_by uuid references staff,
	reason text not null check (reason <> '')
);
create table usual_range (
	practice int not null references usual_practice,
	measure text not null,
	low numeric,
	high numeric,
	primary key (practice, measure),
	check (low is not null or high is not null),
	check (low <= high)
);
create table usual_note (
	practice int not null references usual_practice,
	topic text not null,
	note text not null check (note = btrim(note) and note <> ''),
	primary key (practice, topic)
);
create trigger usual_practice_is_never_edited before update or delete on usual_practice
	for each row execute function refuse_change();
create trigger usual_range_is_never_edited before update or delete on usual_range
	for each row execute function refuse_change();
create trigger usual_note_is_never_edited before update or delete on usual_note
	for each row execute function refuse_change();
comment on table usual_range is 'Rights of the service: select, insert';
comment on table usual_note is 'Rights of the service: select, insert';

-- Common practice, no source. Where practice says "about", the range is that figure with a proposal of room around it.
insert into usual_practice values (1, now(), null, 'The values that Seriatim starts with');
insert into usual_range values
	(1, 'diluent_ml', 3, 5),
	(1, 'whole_face_ml', null, 5),
	(1, 'cheek_side_ml', 1, 2),
	(1, 'area_ml', 0.4, 1.2),
	(1, 'point_ml', 0.01, 0.03),
	(1, 'scar_points', 2, 3),
	(1, 'spacing_mm', null, 10),
	(1, 'needle_gauge', 30, 30),
	(1, 'needle_mm', 4, 4),
	(1, 'angle_degrees', null, 10),
	(1, 'topical_minutes', 30, null);
insert into usual_note values
	(1, 'dilution', 'About 4 mL of diluent into one vial; about half a vial, or a little more, serves one session.'),
	(1, 'lidocaine', 'In a small working volume, 0.5 mL of lidocaine 2 % in 2 mL. These figures on mixing do not fit one recipe: write down the clinic''s own.'),
	(1, 'order', 'Lateral before central, because it hurts less; area by area; scars before pores.'),
	(1, 'comfort', 'Numbing cream for more than 30 minutes, an analgesic by mouth by need, vibration beside the needle.'),
	(1, 'right_layer', 'The lifted tip blanches for a moment and a pinpoint of blood follows.'),
	(1, 'wrong_layer', 'No blanching: too deep. An obvious lump at once: too superficial.'),
	(1, 'small_scar', 'Two to three points, the rim included, entered 1 to 2 mm outside; from a second direction if the base does not lift; pressed flat afterwards.'),
	(1, 'pores', 'Points less than 1 cm apart; rather more points than more in each.'),
	(1, 'periorbital', 'Shallower than elsewhere.'),
	(1, 'cheek', 'Deeper than elsewhere, and the deeper the thicker the skin.'),
	(1, 'glabella', 'Deep dermis at most, small amounts; a depressed scar here takes slightly more in few points.'),
	(1, 'fold', 'Deep folds are treated like scars.'),
	(1, 'after_a_side', 'Feel each side for evenness and lumps; compression, massage, an ointment for a longer massage.'),
	(1, 'combination', 'Radiofrequency microneedling comes after the injection.');
