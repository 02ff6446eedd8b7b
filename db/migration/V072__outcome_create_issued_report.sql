-- Reports that were given out of the clinic, as they were: small numbers suppressed, about no patient. One for each quarter
-- and never another, since two versions of one period tell by their difference what each of them hides.
create table issued_report (
	quarter text primary key check (quarter ~ '^(19|20|21)[0-9]{2}-Q[1-4]$'),
	issued_at timestamptz not null,
	issued_by uuid not null references staff,
	content jsonb not null
);
comment on table issued_report is 'Rights of the service: select, insert';
create trigger issued_report_is_never_edited before update or delete on issued_report
	for each row execute function refuse_change();
