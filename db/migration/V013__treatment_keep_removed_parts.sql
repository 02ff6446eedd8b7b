-- A session is corrected as a whole: a preparation or an injection that was never there is taken out of it. What is
-- taken out is kept as a previous version, whole, so that nothing is lost.
create function keep_removed_version() returns trigger language plpgsql as $$
begin
	insert into previous_version (table_name, entry_id, version, content)
	values (tg_table_name, old.id, old.version, to_jsonb(old));
	return old;
end $$;

drop trigger preparation_is_not_deleted on preparation;
create trigger preparation_is_kept_when_removed before delete on preparation
	for each row execute function keep_removed_version();

drop trigger injection_is_not_deleted on injection;
create trigger injection_is_kept_when_removed before delete on injection
	for each row execute function keep_removed_version();

-- Preparations and injections of one session come and go in one transaction, in any order.
alter table injection alter constraint injection_preparation_id_session_id_fkey deferrable initially deferred;
alter table injection alter constraint injection_preparation_id_fkey deferrable initially deferred;

create index previous_version_of_session_part on previous_version ((content ->> 'session_id'))
	where table_name in ('preparation', 'injection');
