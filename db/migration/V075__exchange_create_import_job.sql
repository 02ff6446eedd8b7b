-- How far an import is that somebody started on a page, and what came of it, for whichever service is asked. What was
-- wrong with a bundle may be about patients: that lies in a file of the data folder for a day, and not in here.
create table import_job (
	id uuid primary key,
	started_at timestamptz not null,
	staff_id uuid references staff,
	with_update boolean not null,
	stage text,
	file text not null default '',
	done bigint not null default 0,
	total bigint not null default 0,
	ended_at timestamptz,
	outcome text check (outcome in ('taken', 'refused', 'broken_off')),
	digest text,
	problems bigint,
	complete boolean,
	check ((outcome is null) = (ended_at is null)),
	check (outcome is distinct from 'taken' or digest is not null),
	check (outcome is distinct from 'refused' or (problems is not null and complete is not null))
);
create index import_job_by_start on import_job (started_at);
-- Of two that are asked for in the same moment, at whichever services, one is told that the other is under way.
create unique index import_job_one_at_a_time on import_job ((true)) where ended_at is null;

create table import_job_file (
	job_id uuid not null references import_job on delete cascade,
	place int not null,
	file text not null,
	added bigint not null,
	changed bigint not null,
	unchanged bigint not null,
	primary key (job_id, place)
);
