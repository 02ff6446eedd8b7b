-- What is known of a finding beside what travels in the exchange bundle: its onset as a day or between two days, what makes it
-- serious, how a lump shows, who noticed it and how that reached the clinic, its course in one word, and the causality that
-- a clinician gave it. All of it may be unknown.
alter table finding
	add column onset_first date,
	add column onset_last date,
	add column side text check (side in ('right', 'middle', 'left')),
	add column visibility smallint check (visibility between 1 and 3),
	add column inflammatory boolean,
	add column noticed_by text check (noticed_by in ('patient', 'relative', 'practitioner', 'assistant', 'other_clinic')),
	add column how_reported text check (how_reported in ('visit', 'phone', 'link', 'photograph')),
	add column seriousness_criteria text[] not null default '{}' check (seriousness_criteria <@ array['death', 'life_threatening',
		'hospitalisation', 'disability', 'congenital_anomaly', 'medically_important', 'intervention']),
	add column course text check (course in ('open', 'improving', 'resolved', 'resolved_with_sequelae',
		'ongoing_at_last_contact', 'lost_to_follow_up', 'fatal')),
	add column causality text check (causality in ('certain', 'probable', 'possible', 'unlikely', 'conditional', 'unassessable')),
	add column causality_by uuid references staff,
	add column causality_on date,
	add column closed_at timestamptz,
	add constraint finding_onset_has_its_first_day check (onset_last is null or onset_first is not null),
	add constraint finding_onset_in_order check (onset_last >= onset_first),
	add constraint finding_onset_not_after_it_was_noted check (coalesce(onset_last, onset_first) <= first_noted_on),
	add constraint finding_with_criteria_is_serious check (seriousness_criteria = '{}' or serious is true),
	add constraint finding_of_death_is_grade_five check (not 'death' = any (seriousness_criteria) or grade is not distinct from 5),
	add constraint finding_causality_is_somebodys check (num_nulls(causality, causality_by, causality_on) in (0, 3)),
	add constraint finding_closed_at_while_closed check (closed_at is null or closed_on is not null);
