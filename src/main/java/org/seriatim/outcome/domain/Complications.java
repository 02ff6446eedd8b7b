package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.FindingKind;

import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** How often sessions are followed by a finding. */
@Service
@Transactional(readOnly = true)
public class Complications {

	private final FigureStatements database;

	private final Clock clock;

	Complications(FigureStatements database, Clock clock) {
		this.database = database;
		this.clock = clock;
	}

	/**
	 * What all rates and charts of a view are made of.
	 * @param kind one kind, also where it was never found; {@code null} for all that were
	 */
	public SessionsAndFindings read(OutcomeFilter filter, @Nullable FindingKind kind) {
		return new SessionsAndFindings(sessions(filter), findings(filter, kind), kind,
				(grouping) -> members(filter, grouping));
	}

	public SessionRates rates(OutcomeFilter filter, ComplicationGrouping grouping, @Nullable FindingKind kind) {
		return read(filter, kind).rates(grouping);
	}

	private List<SessionsAndFindings.Session> sessions(OutcomeFilter filter) {
		return this.database.sql("""
				with %s,
				following as (
					select asked.*, coalesce(later.next_on, :today) as ends_on
					from asked
					join (select id, lead(treated_on) over (partition by patient_id order by number) as next_on
						from session) later on later.id = asked.id)
				select id, patient_id, practitioner_id::text as practitioner,
					coalesce(phototype::text, 'unknown') as phototype, treated_on,
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
				from following
				order by treated_on, id""".formatted(AskedSessions.TABLE))
			.params(AskedSessions.values(filter, today()))
			.query((row, index) -> new SessionsAndFindings.Session(row.getObject("id", UUID.class),
					row.getObject("patient_id", UUID.class), row.getString("practitioner"), row.getString("phototype"),
					row.getObject("treated_on", LocalDate.class), row.getBoolean("observed")))
			.list();
	}

	private List<SessionsAndFindings.Finding> findings(OutcomeFilter filter, @Nullable FindingKind kind) {
		return this.database
			.sql("""
					with %s,
					last_seen as (
						select distinct on (finding_id) finding_id, present
						from finding_observation where observed_on <= :today
						order by finding_id, observed_on desc, present desc)
					select finding.session_id, finding.kind, finding.region::text as region,
						finding.closed_on is null and finding.gone_on is null and coalesce(present, true) as unresolved
					from finding
					join asked on asked.id = finding.session_id
					left join last_seen on last_seen.finding_id = finding.id
					where finding.first_noted_on <= :today
						and (cast(:kind as text) is null or finding.kind = cast(:kind as text))
						and (cast(:region as text) is null or finding.region = cast(:region as text))"""
				.formatted(AskedSessions.TABLE))
			.params(AskedSessions.values(filter, today()))
			.param("kind", (kind != null) ? kind.word() : null)
			.query((row, index) -> new SessionsAndFindings.Finding(row.getObject("session_id", UUID.class),
					FindingKind.valueOf(row.getString("kind").toUpperCase(Locale.ROOT)), row.getString("region"),
					row.getBoolean("unresolved")))
			.list();
	}

	private Map<UUID, List<String>> members(OutcomeFilter filter, ComplicationGrouping grouping) {
		var members = new HashMap<UUID, List<String>>();
		this.database.sql("""
				with %s,
				member (session_id, value) as (%s)
				select session_id, value from member""".formatted(AskedSessions.TABLE, grouping.members()))
			.params(AskedSessions.values(filter, today()))
			.query((row) -> {
				members.computeIfAbsent(row.getObject("session_id", UUID.class), (id) -> new ArrayList<>(1))
					.add(row.getString("value"));
			});
		return members;
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
