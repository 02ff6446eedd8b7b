-- The rules that an advice follows, the usual interval left out: two advices with the same status, days and rules say the
-- same, and a decision on the one is one on the other.
create function advice_rules(content jsonb) returns text[] language sql immutable strict parallel safe as $$
	select coalesce(array_agg(reason ->> 'rule' order by reason ->> 'rule'), '{}')
	from jsonb_array_elements(content -> 'reasons') reason
	where reason ->> 'rule' <> 'BASE'
$$;

-- The advice that stands on each open series with the window that holds: a practitioner's own where the advice was
-- overridden and says the same still.
create view standing_advice as
select advice.id, advice.patient_id, advice.series_id, advice.session_id, advice.status, advice.computed_at,
	advice.next_contact_day, coalesce(not holding.accepted, false) as own_window,
	case when not holding.accepted then holding.first_day else advice.first_day end as first_day,
	case when not holding.accepted then holding.first_day else advice.target_day end as target_day,
	case when not holding.accepted then holding.last_day else advice.last_day end as last_day,
	holding.decided_at as holding_since, latest.decided_at
from advice
	left join (
		select distinct on (decided.session_id) decided.session_id, decided.id as advice_id, decided.status as on_status,
			decided.first_day as on_first_day, decided.last_day as on_last_day, decision.accepted, decision.decided_at,
			decision.first_day, decision.last_day
		from advice_decision decision join advice decided on decided.id = decision.advice_id
		order by decided.session_id, decision.decided_at desc, decision.id desc) latest
		on latest.session_id = advice.session_id
	left join lateral (
		select latest.* from advice decided
		where decided.id = latest.advice_id and latest.on_status = advice.status
			and latest.on_first_day is not distinct from advice.first_day
			and latest.on_last_day is not distinct from advice.last_day
			and decided.content ->> 'firstIfLumpPersisted' is not distinct from advice.content ->> 'firstIfLumpPersisted'
			and advice_rules(decided.content) = advice_rules(advice.content)) holding on true
where advice.replaced_at is null;

-- What was recorded on one day.
create index contact_by_recording on contact (recorded_at);
create index appointment_by_recording on appointment (recorded_at);
create index advice_decision_by_day on advice_decision (decided_at);
