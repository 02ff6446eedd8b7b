-- A signal of a chart is looked into by somebody; what was found and done is kept. It is about the clinic, never about a
-- patient, and a signal is no verdict.
create table signal_review (
	id uuid primary key default uuidv7(),
	chart text not null check (chart in ('funnel', 'cusum')),
	kind text not null,
	unit text not null check (unit in ('clinic', 'practitioner', 'lot')),
	practitioner_id uuid references staff,
	lot text,
	period_from date,
	period_to date,
	opened_on date not null,
	opened_by uuid references staff,
	sessions int not null check (sessions >= 1),
	sessions_with_finding int not null check (sessions_with_finding between 0 and sessions),
	clinic_rate double precision not null check (clinic_rate between 0 and 1),
	looked_by uuid references staff,
	looked_on date,
	found text check (found = btrim(found) and found <> ''),
	done text check (done = btrim(done) and done <> ''),
	ended boolean not null default false,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	check ((unit = 'practitioner') = (practitioner_id is not null)),
	check ((unit = 'lot') = (lot is not null)),
	constraint signal_review_ends_with_what_was_found check (not ended or (looked_by is not null and found is not null and done is not null))
);
create index signal_review_open on signal_review (kind) where not ended;
create trigger signal_review_keeps_versions before update on signal_review
	for each row execute function keep_previous_version();
create trigger signal_review_is_not_deleted before delete on signal_review
	for each row execute function refuse_deletion();
