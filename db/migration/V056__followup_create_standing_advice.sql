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
select id, patient_id, series_id, session_id, status, computed_at, next_contact_day,
	coalesce(holds and not accepted, false) as own_window,
	case when holds and not accepted then own_first_day else first_day end as first_day,
	case when holds and not accepted then own_first_day else target_day end as target_day,
	case when holds and not accepted then own_last_day else last_day end as last_day,
	case when holds then decided_at end as holding_since, decided_at
from (
	select advice.id, advice.patient_id, advice.series_id, advice.session_id, advice.status, advice.computed_at,
		advice.next_contact_day, advice.first_day, advice.target_day, advice.last_day, latest.accepted, latest.decided_at,
		latest.own_first_day, latest.own_last_day,
		latest.advice_id = advice.id or latest.on_status = advice.status
			and latest.on_first_day is not distinct from advice.first_day
			and latest.on_last_day is not distinct from advice.last_day
			and exists (select from advice decided
				where decided.id = latest.advice_id
					and decided.content ->> 'firstIfLumpPersisted' is not distinct from advice.content ->> 'firstIfLumpPersisted'
					and advice_rules(decided.content) = advice_rules(advice.content)) as holds
	from advice
		left join (
			select distinct on (decided.session_id) decided.session_id, decided.id as advice_id,
				decided.status as on_status, decided.first_day as on_first_day, decided.last_day as on_last_day,
				decision.accepted, decision.decided_at, decision.first_day as own_first_day,
				decision.last_day as own_last_day
			from advice_decision decision join advice decided on decided.id = decision.advice_id
			order by decided.session_id, decision.decided_at desc, decision.id desc) latest
			on latest.session_id = advice.session_id
	where advice.replaced_at is null
	-- so that what holds is asked once for a row
	offset 0) standing;

create index finding_open_by_patient on finding (patient_id) where closed_on is null;

-- What was recorded on one day.
create index contact_by_recording on contact (recorded_at);
create index appointment_by_recording on appointment (recorded_at);
create index advice_decision_by_day on advice_decision (decided_at);
