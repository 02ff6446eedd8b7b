-- What became of each backup: one row when it has ended, with the reason if there is no backup.
create table backup_run (
	id uuid primary key default uuidv7(),
	started_at timestamptz not null,
	ended_at timestamptz not null check (ended_at >= started_at),
	how text not null check (how in ('command', 'page', 'schedule')),
	reason text check (btrim(reason) <> ''),
	file text not null,
	bytes bigint check (bytes > 0),
	staff_id uuid references staff,
	check ((reason is null) = (bytes is not null))
);
create index backup_run_by_start on backup_run (started_at desc);
create index backup_run_good on backup_run (started_at) where reason is null;
