-- Whether a finding has to be reported to somebody was considered: by whom, when, with what result and why; and, where it was
-- sent, to whom and under which reference. One row for each recipient that was considered. Local law decides; the service
-- sends nothing.
create table finding_report (
	id uuid primary key default uuidv7(),
	patient_id uuid not null references patient on delete cascade,
	finding_id uuid not null references finding on delete cascade,
	considered_on date not null,
	considered_by uuid not null references staff,
	decision text not null check (decision in ('report', 'do_not_report')),
	reason text not null check (reason = btrim(reason) and reason <> ''),
	recipient text check (recipient = btrim(recipient) and recipient <> ''),
	sent_on date,
	reference text check (reference = btrim(reference) and reference <> ''),
	follow_up_due date,
	version bigint not null default 0,
	recorded_at timestamptz not null default now(),
	recorded_by uuid references staff,
	correction_reason text,
	constraint finding_report_that_is_not_made_has_nothing_sent
		check (decision = 'report' or num_nonnulls(sent_on, reference, follow_up_due) = 0),
	constraint finding_report_is_sent_to_somebody check (sent_on is null or recipient is not null),
	constraint finding_report_has_a_reference_once_sent check (reference is null or sent_on is not null),
	constraint finding_report_is_sent_once_considered check (sent_on >= considered_on)
);
create index finding_report_by_finding on finding_report (finding_id, considered_on);
create index finding_report_by_patient on finding_report (patient_id);
create trigger finding_report_keeps_versions before update on finding_report
	for each row execute function keep_previous_version();
create trigger finding_report_is_not_deleted before delete on finding_report
	for each row execute function refuse_deletion();
