package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What became of the whole face and of its pores: scales, global improvement, pores by
 * region. Of each stage its last day counts; several assessors of one day are averaged,
 * but for the levels of global improvement, of which the last recorded counts.
 */
@Service
@Transactional(readOnly = true)
public class FaceImprovement {

	private final JdbcClient database;

	private final Clock clock;

	FaceImprovement(JdbcClient database, Clock clock) {
		this.database = database;
		this.clock = clock;
	}

	public GaisFigures gais(OutcomeFilter filter) {
		return GaisFigures.of(this.database
			.sql("""
					with %s
					select distinct on (session_id, item) patient_id::text as patient, stage, item as judged_by, value
					from stages join global_assessment using (patient_id)
					where scale = 'gais' and value between -1 and 3 and assessed_on > treated_on and assessed_on <= ends_on
					order by session_id, item, assessed_on desc, recorded_at desc, global_assessment.id"""
				.formatted(AskedStages.TABLE))
			.params(AskedSessions.values(filter, today()))
			.query((row, index) -> new GaisFigures.Judgement(row.getString("patient"), row.getInt("stage"),
					row.getString("judged_by"), row.getBigDecimal("value").intValue()))
			.list());
	}

	/** Every scale but the global improvement; the subject is {@code scale.item}. */
	public ChangeFigures scales(OutcomeFilter filter) {
		return changes(filter, "scale || '.' || item", "value", "global_assessment", "scale <> 'gais'");
	}

	/** Grades of the pores; the subject is the region. */
	public ChangeFigures poreGrades(OutcomeFilter filter) {
		return changes(filter, "region", "grade", "pore_assessment",
				"(cast(:region as text) is null or region = cast(:region as text))");
	}

	/** Pores in a square centimetre; the subject is the region. */
	public ChangeFigures poreDensities(OutcomeFilter filter) {
		return changes(filter, "region", "pores_per_cm2", "pore_assessment",
				"(cast(:region as text) is null or region = cast(:region as text))");
	}

	private ChangeFigures changes(OutcomeFilter filter, String subject, String score, String table, String which) {
		AskedStages.joinWholeTables(this.database);
		return ChangeFigures.of(this.database
			.sql("""
					with %s,
					scored as (
						select patient_id, (%s)::text as subject, assessed_on, avg(%s)::float8 as score
						from %s where %s is not null and %s
						group by 1, 2, 3),
					later as (
						select distinct on (session_id, subject) session_id, series_id, patient_id, stage, subject, score
						from stages join scored using (patient_id)
						where assessed_on > treated_on and assessed_on <= ends_on
						order by session_id, subject, assessed_on desc),
					first as (
						select distinct on (series_id, subject) series_id, subject, score
						from (select distinct series_id, patient_id, first_on from stages) began
						join scored using (patient_id)
						where assessed_on <= first_on
						order by series_id, subject, assessed_on desc)
					select later.patient_id::text as patient, later.subject, later.stage, first.score as before,
						later.score as after
					from later join first on first.series_id = later.series_id and first.subject = later.subject
					order by later.series_id, later.subject, later.stage"""
				.formatted(AskedStages.TABLE, subject, score, table, score, which))
			.params(AskedSessions.values(filter, today()))
			.query((row, index) -> new ChangeFigures.Pair(row.getString("patient"), row.getString("subject"),
					row.getInt("stage"), row.getDouble("before"), row.getDouble("after")))
			.list());
	}

	private LocalDate today() {
		return LocalDate.now(this.clock);
	}

}
