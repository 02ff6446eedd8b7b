-- What became of a scar at a visit where it was not simply measured: by whom it was classified, into which it merged or split,
-- or why it is followed no longer. None of these is a measurement of zero.
create table scar_state (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient,
	scar_id uuid not null,
	assessed_on date not null,
	assessor_id uuid not null references staff,
	state text not null check (state in ('assessed', 'not_assessed', 'not_found', 'merged', 'split', 'excluded', 'resolved')),
	into_scars uuid[] not null default '{}',
	reason text check (reason = btrim(reason) and reason <> ''),
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	unique (scar_id, assessed_on, assessor_id),
	foreign key (scar_id, patient_id) references scar (id, patient_id),
	constraint scar_state_says_into_which check ((state in ('merged', 'split')) = (into_scars <> '{}')),
	constraint scar_state_merges_into_one check (state <> 'merged' or cardinality(into_scars) = 1),
	constraint scar_state_not_into_itself check (not scar_id = any (into_scars)),
	constraint scar_state_excludes_for_a_reason check (state <> 'excluded' or reason is not null)
);
create index scar_state_by_patient on scar_state (patient_id, assessed_on);
create trigger scar_state_keeps_versions before update on scar_state
	for each row execute function keep_previous_version();
create trigger scar_state_is_not_deleted before delete on scar_state
	for each row execute function refuse_deletion();

-- The clinic's figures rest on it, so it stays as the state of nobody's scar, without the words of its reason.
do $$
declare
	was text := pg_get_functiondef('erase_patient(uuid, timestamptz, uuid, text, text)'::regprocedure);
	becomes text := replace(replace(was, 'insert into scar_assessment (id,',
		'insert into scar_state (id, patient_id, scar_id, assessed_on, assessor_id, state, into_scars, reason, recorded_at)
		select mark_of_nobody(secret || id)::uuid, nobody, mark_of_nobody(secret || scar_id)::uuid, assessed_on - days, assessor_id, state,
			array(select mark_of_nobody(secret || one)::uuid from unnest(into_scars) one),
			case when reason is not null then ''erased'' end, assessed_on - days
		from scar_state where patient_id = erased;
		insert into scar_assessment (id,'),
		'delete from scar_assessment where patient_id = erased;',
		'delete from scar_state where patient_id = erased;
	delete from scar_assessment where patient_id = erased;');
begin
	if becomes not like '%insert into scar_state%' or becomes not like '%delete from scar_state%' then
		raise exception 'erase_patient is not what this migration knows';
	end if;
	execute becomes;
end $$;
