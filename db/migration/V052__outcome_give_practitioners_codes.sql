-- In the clinic's figures practitioners see each other by a code that nothing else leads to, unless the lead opens the names.
alter table staff add column figure_code text not null unique
	default upper(substr(replace(gen_random_uuid()::text, '-', ''), 1, 6));

create table practitioner_names_opening (
	id uuid primary key default uuidv7(),
	opened_at timestamptz not null,
	opened_by uuid not null references staff,
	reason text not null check (btrim(reason) <> ''),
	closed_at timestamptz check (closed_at >= opened_at),
	closed_by uuid references staff,
	check ((closed_at is null) = (closed_by is null))
);
create unique index practitioner_names_open on practitioner_names_opening ((true)) where closed_at is null;
create trigger practitioner_names_opening_is_not_deleted before delete on practitioner_names_opening
	for each row execute function refuse_change();
