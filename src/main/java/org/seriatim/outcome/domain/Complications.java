package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.FindingKind;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** How often sessions are followed by a finding. */
@Service
@Transactional(readOnly = true)
public class Complications {

	private static final String FOUND = """
			found as (
				select finding.session_id, finding.kind, finding.region::text as region,
					finding.closed_on is null and finding.gone_on is null and coalesce((
						select present from finding_observation
						where finding_id = finding.id and observed_on <= :today
						order by observed_on desc, present desc limit 1), true) as unresolved
				from finding join asked on asked.id = finding.session_id
				where finding.first_noted_on <= :today
					and (cast(:kind as text) is null or finding.kind = cast(:kind as text))
					and (cast(:region as text) is null or finding.region = cast(:region as text)))
			""";

	private final JdbcClient database;

	private final Clock clock;

	Complications(JdbcClient database, Clock clock) {
		this.database = database;
		this.clock = clock;
	}

	/**
	 * @param kind one kind, also where it was never found; {@code null} for all that were
	 */
	public SessionRates rates(OutcomeFilter filter, ComplicationGrouping grouping, @Nullable FindingKind kind) {
		return SessionRates.of(followed(filter, grouping), found(filter, grouping, kind),
				(kind != null) ? List.of(kind) : List.of());
	}

	private List<SessionRates.Followed> followed(OutcomeFilter filter, ComplicationGrouping grouping) {
		return this.database.sql("""
				with %s,
				member (session_id, value) as (%s),
				following as (
					select asked.id, asked.patient_id, asked.treated_on, coalesce(later.next_on, :today) as ends_on
					from asked
					join (select id, lead(treated_on) over (partition by patient_id order by number) as next_on
						from session) later on later.id = asked.id),
				looked as (
					select id, patient_id,
						exists (select from contact where contact.session_id = following.id and outcome = 'reached'
							and contacted_on <= :today)
						or exists (select from finding where finding.session_id = following.id
							and first_noted_on <= :today)
						or exists (select from scar_assessment a where a.patient_id = following.patient_id
							and a.assessed_on > treated_on and a.assessed_on <= ends_on)
						or exists (select from pore_assessment a where a.patient_id = following.patient_id
							and a.assessed_on > treated_on and a.assessed_on <= ends_on)
						or exists (select from global_assessment a where a.patient_id = following.patient_id
							and a.assessed_on > treated_on and a.assessed_on <= ends_on) as observed
					from following)
				select value, patient_id::text as patient, count(*) as sessions,
					count(*) filter (where not observed) as unobserved
				from member join looked on looked.id = member.session_id
				group by value, patient_id
				order by value, patient_id""".formatted(AskedSessions.TABLE, grouping.members()))
			.params(AskedSessions.values(filter, today()))
			.query((row, index) -> new SessionRates.Followed(row.getString("value"), row.getString("patient"),
					row.getInt("sessions"), row.getInt("unobserved")))
			.list();
	}

	private List<SessionRates.Found> found(OutcomeFilter filter, ComplicationGrouping grouping,
			@Nullable FindingKind kind) {
		return this.database
			.sql("""
					with %s,
					member (session_id, value) as (%s),
					%s
					select value, asked.patient_id::text as patient, kind, count(distinct found.session_id) as sessions,
						count(*) as findings, count(*) filter (where unresolved) as unresolved
					from member
					join asked on asked.id = member.session_id
					join found on found.session_id = member.session_id %s
					group by value, asked.patient_id, kind
					order by value, asked.patient_id, kind""".formatted(AskedSessions.TABLE, grouping.members(), FOUND,
					(grouping == ComplicationGrouping.REGION) ? "and found.region = member.value" : ""))
			.params(AskedSessions.values(filter, today()))
			.param("kind", (kind != null) ? kind.word() : null)
			.query((row, index) -> new SessionRates.Found(row.getString("value"), row.getString("patient"),
					FindingKind.valueOf(row.getString("kind").toUpperCase(Locale.ROOT)), row.getInt("sessions"),
					row.getInt("findings"), row.getInt("unresolved")))
			.list();
	}

	/** Session by session; units are the ids of practitioners. */
	public Surveillance surveillance(OutcomeFilter filter, FindingKind kind, int falseAlarm) {
		return Surveillance.of(this.database.sql("""
				with %s,
				%s
				select asked.practitioner_id::text as unit, treated_on, events.session_id is not null as event
				from asked left join (select distinct session_id from found) events on events.session_id = asked.id
				order by treated_on, asked.id""".formatted(AskedSessions.TABLE, FOUND))
			.params(AskedSessions.values(filter, today()))
			.param("kind", kind.word())
			.query((row, index) -> new Surveillance.Treated(row.getString("unit"),
					row.getObject("treated_on", LocalDate.class), row.getBoolean("event")))
			.list(), falseAlarm);
	}

	/** Findings that belong to no session and so enter no rate. */
	public int withoutSession(@Nullable FindingKind kind) {
		return this.database.sql("""
				select count(*) from finding
				where session_id is null and first_noted_on <= :today
					and (cast(:kind as text) is null or kind = cast(:kind as text))""")
			.param("today", today())
			.param("kind", (kind != null) ? kind.word() : null)
			.query(Integer.class)
			.single();
	}

	private LocalDate today() {
		return LocalDate.now(this.clock);
	}

}
