-- A picture is on the disk before its row is in the database. Its file stands in this list meanwhile, so that one whose
-- row never came, because the service was killed in between, goes as well.
alter table photograph_file_to_remove add column not_before timestamptz not null default now();
comment on column photograph_file_to_remove.not_before is
	'Of a photograph that is being taken in: when it surely is not any more';
