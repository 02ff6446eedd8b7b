-- What the latest decision of a session means for the advice that stands, kept with the advice, so that a list over all
-- patients need not look through all decisions and advices that there ever were. Neither an advice nor a decision is edited,
-- so this is right from the moment of writing on; the database writes it with whichever of the two comes later.
alter table advice
	add column decision_at timestamptz,
	add column decision_holds boolean not null default false,
	add column decision_accepted boolean,
	add column decision_first_day date,
	add column decision_last_day date;

-- The latest decision on any advice of a session, and whether it is one on this advice too.
create function decision_on(standing advice,
	out decided_at timestamptz, out holds boolean, out accepted boolean, out first_day date, out last_day date)
language sql stable as $$
	select d.decided_at,
		decided.id = standing.id or decided.status = standing.status
			and decided.first_day is not distinct from standing.first_day
			and decided.last_day is not distinct from standing.last_day
			and decided.content ->> 'firstIfLumpPersisted' is not distinct from standing.content ->> 'firstIfLumpPersisted'
			and advice_rules(decided.content) = advice_rules(standing.content),
		d.accepted, d.first_day, d.last_day
	from advice_decision d join advice decided on decided.id = d.advice_id
	where decided.session_id = standing.session_id
	order by d.decided_at desc, d.id desc limit 1
$$;

create function keep_decision_with_new_advice() returns trigger language plpgsql as $$
declare latest record;
begin
	select * into latest from decision_on(new);
	new.decision_at := latest.decided_at;
	new.decision_holds := coalesce(latest.holds, false);
	new.decision_accepted := latest.accepted;
	new.decision_first_day := latest.first_day;
	new.decision_last_day := latest.last_day;
	return new;
end $$;
create trigger advice_keeps_its_decision before insert on advice
	for each row when (new.replaced_at is null) execute function keep_decision_with_new_advice();

create function keep_new_decision_with_advice() returns trigger language plpgsql as $$
begin
	update advice a set decision_at = latest.decided_at, decision_holds = coalesce(latest.holds, false),
		decision_accepted = latest.accepted, decision_first_day = latest.first_day, decision_last_day = latest.last_day
	from (select current.id as of, (decision_on(current)).* from advice current
		where current.replaced_at is null and current.session_id = (select session_id from advice where id = new.advice_id)) latest
	where a.id = latest.of;
	return null;
end $$;
create trigger advice_decision_is_kept_with_advice after insert on advice_decision
	for each row execute function keep_new_decision_with_advice();

update advice a set decision_at = latest.decided_at, decision_holds = coalesce(latest.holds, false),
	decision_accepted = latest.accepted, decision_first_day = latest.first_day, decision_last_day = latest.last_day
from (select current.id as of, (decision_on(current)).* from advice current where current.replaced_at is null) latest
where a.id = latest.of;

-- The advice that stands on each open series with the window that holds, as before.
create or replace view standing_advice as
select id, patient_id, series_id, session_id, status, computed_at, next_contact_day,
	coalesce(decision_holds and not decision_accepted, false) as own_window,
	case when decision_holds and not decision_accepted then decision_first_day else first_day end as first_day,
	case when decision_holds and not decision_accepted then decision_first_day else target_day end as target_day,
	case when decision_holds and not decision_accepted then decision_last_day else last_day end as last_day,
	case when decision_holds then decision_at end as holding_since, decision_at as decided_at
from advice where replaced_at is null;
