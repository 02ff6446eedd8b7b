-- What is entered by hand beside what a bundle brings: which edition of the grading scale a grade was read from, whether
-- histology confirmed a granuloma, the alarming signs that somebody reported, and how long they waited to be acknowledged.
alter table finding
	add column grade_scale text check (grade_scale in ('ctcae_5', 'ctcae_6')),
	add column histology boolean,
	add column note text check (note = btrim(note) and note <> ''),
	add column signs text[] not null default '{}',
	add column raised_at timestamptz,
	add column raised_by uuid references staff,
	add column acknowledged_at timestamptz,
	add column acknowledged_by uuid references staff,
	add constraint finding_is_acknowledged_by_somebody check ((acknowledged_at is null) = (acknowledged_by is null)),
	add constraint finding_is_acknowledged_after_it_was_raised check (acknowledged_at >= raised_at),
	add constraint finding_has_no_reason_while_open check (closing_reason is null or closed_on is not null);
