-- The steps of the schema that a version must know to work on it. Every other step only adds what a version that
-- does not know it can leave alone; so a version may go on, and start again, beside a newer one that has moved the
-- schema forward. A step that takes away or changes what a version before it reads or writes names itself here.
create table schema_step_needed (
	step text primary key
);
comment on table schema_step_needed is 'Rights of the service: select';
