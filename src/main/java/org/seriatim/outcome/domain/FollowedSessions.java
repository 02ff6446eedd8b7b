package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.LocalDate;

import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Counts what became of the sessions that a filter lets through. */
@Service
@Transactional(readOnly = true)
public class FollowedSessions {

	private final FigureStatements database;

	private final Clock clock;

	FollowedSessions(FigureStatements database, Clock clock) {
		this.database = database;
		this.clock = clock;
	}

	public OutcomeFlow flow(OutcomeFilter filter) {
		return this.database
			.sql("""
					with %s,
					following as (
						select asked.id, asked.patient_id, asked.series_id, asked.treated_on, later.next_on
						from asked
						join (select id, lead(treated_on) over (partition by patient_id order by number) as next_on
							from session) later on later.id = asked.id),
					assessed as materialized (
						select following.*, exists (
							select from scar_assessment a where a.patient_id = following.patient_id
								and a.assessed_on > treated_on and a.assessed_on <= coalesce(next_on, :today))
							or exists (
							select from pore_assessment a where a.patient_id = following.patient_id
								and a.assessed_on > treated_on and a.assessed_on <= coalesce(next_on, :today))
							or exists (
							select from global_assessment a where a.patient_id = following.patient_id
								and a.assessed_on > treated_on and a.assessed_on <= coalesce(next_on, :today)) as seen
						from following)
					select count(distinct patient_id) as patients, count(distinct series_id) as series, count(*) as sessions,
						count(*) filter (where seen) as assessed,
						count(*) filter (where not seen and next_on is null and treated_on >= :awaitedFrom) as awaited
					from assessed"""
				.formatted(AskedSessions.TABLE))
			.params(AskedSessions.values(filter, today()))
			.param("awaitedFrom", today().minusDays(OutcomeFlow.AWAITED_DAYS))
			.query((row, index) -> new OutcomeFlow(row.getInt("patients"), row.getInt("series"), row.getInt("sessions"),
					row.getInt("assessed"), row.getInt("awaited"),
					row.getInt("sessions") - row.getInt("assessed") - row.getInt("awaited")))
			.single();
	}

	private LocalDate today() {
		return LocalDate.now(this.clock);
	}

}
