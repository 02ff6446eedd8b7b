-- What one more session brought, as it was computed with a snapshot of the clinic's figures. Sums over the whole clinic,
-- about no patient; never edited, so that what a page showed on a day can be looked up.
create table gain_snapshot (
	snapshot_number int primary key references snapshot,
	made_at timestamptz not null,
	as_of date not null,
	content jsonb not null
);
create trigger gain_snapshot_is_never_edited before update or delete on gain_snapshot
	for each row execute function refuse_change();
