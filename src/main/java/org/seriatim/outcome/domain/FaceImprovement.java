package org.seriatim.outcome.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;

import org.seriatim.assessment.Ecca;
import org.seriatim.assessment.FaceCount;

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

	private static final int FETCHED_AT_ONCE = 10_000;

	/** Every score with the stage that it lies in, 0 for a baseline. */
	private static final String SCORED = """
			with %s,
			%s
			select series_id, case when assessed_on > first_on then stage else 0 end as reached, scored.*
			from begun join scored using (patient_id)
			where assessed_on > treated_on and assessed_on <= ends_on or begins and assessed_on <= first_on""";

	/** The complete counts of the face: each region of it, each type that is weighed. */
	private static final String COUNTED = """
			scored as (
				select patient_id, assessed_on, %s
				from scar_count where region in (%s) and type in (%s)
				group by patient_id, assessed_on, assessor_id
				having count(*) = %d)""".formatted(
			FaceCount.scoredTypes()
				.stream()
				.map((type) -> "sum(count) filter (where type = '%s') as %s".formatted(type.word(), type.word()))
				.collect(Collectors.joining(", ")),
			FaceCount.faceRegions()
				.stream()
				.map((region) -> "'" + region.word() + "'")
				.collect(Collectors.joining(", ")),
			FaceCount.scoredTypes().stream().map((type) -> "'" + type.word() + "'").collect(Collectors.joining(", ")),
			FaceCount.faceRegions().size() * FaceCount.scoredTypes().size());

	private final FigureStatements database;

	private final Clock clock;

	FaceImprovement(FigureStatements database, Clock clock) {
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

	/**
	 * Every scale but the global improvement; the subject is {@code scale.item}. The ECCA
	 * score and its halves are computed from complete counts, the sum of the acne scar
	 * severity from its three sites by one assessor on one day.
	 */
	public ChangeFigures scales(OutcomeFilter filter) {
		return ChangeFigures.of(scalePairs(filter));
	}

	/** By region: grades of the pores, and pores in a square centimetre. */
	public PoreFigures pores(OutcomeFilter filter) {
		var pairs = porePairs(filter);
		return new PoreFigures(ChangeFigures.of(pairs.grades()), ChangeFigures.of(pairs.densities()));
	}

	/** The subject of both is the region. */
	public record PoreFigures(ChangeFigures grades, ChangeFigures densities) {
	}

	/** What the figures of pores are made of. */
	record PorePairs(List<ChangeFigures.Pair> grades, List<ChangeFigures.Pair> densities) {
	}

	List<ChangeFigures.Pair> scalePairs(OutcomeFilter filter) {
		AskedStages.joinWholeTables(this.database);
		var courses = new ScoreCourses();
		this.database.sql(SCORED.formatted(AskedStages.BEGUN, """
				scored as (
					select patient_id, assessed_on, scale || '.' || item as subject, value
					from global_assessment where scale <> 'gais'
					union all
					select patient_id, assessed_on, 'scar-s.sum', sum(value)
					from global_assessment where scale = 'scar-s' and item in ('face', 'chest', 'back')
					group by patient_id, assessed_on, assessor_id having count(*) = 3)"""))
			.params(AskedSessions.values(filter, today()))
			.query((row) -> {
				add(courses, row, row.getString("subject"), row.getDouble("value"));
			});
		this.database.sql(SCORED.formatted(AskedStages.BEGUN, COUNTED))
			.params(AskedSessions.values(filter, today()))
			.query((row) -> {
				var ecca = ecca(row);
				add(courses, row, "ecca.total", ecca.total());
				add(courses, row, "ecca.atrophic", ecca.atrophic());
				add(courses, row, "ecca.raised", ecca.raised());
			});
		return courses.pairs();
	}

	PorePairs porePairs(OutcomeFilter filter) {
		AskedStages.joinWholeTables(this.database);
		var grades = new ScoreCourses();
		var densities = new ScoreCourses();
		this.database.sql(SCORED.formatted(AskedStages.BEGUN, """
				scored as (
					select patient_id, assessed_on, region::text as subject, grade, pores_per_cm2
					from pore_assessment
					where cast(:region as text) is null or region = cast(:region as text))"""))
			.params(AskedSessions.values(filter, today()))
			.withFetchSize(FETCHED_AT_ONCE)
			.query((row) -> {
				double grade = row.getDouble("grade");
				if (!row.wasNull()) {
					add(grades, row, row.getString("subject"), grade);
				}
				double density = row.getDouble("pores_per_cm2");
				if (!row.wasNull()) {
					add(densities, row, row.getString("subject"), density);
				}
			});
		return new PorePairs(grades.pairs(), densities.pairs());
	}

	private static void add(ScoreCourses courses, ResultSet row, String subject, double score) throws SQLException {
		courses.add(row.getObject("series_id", UUID.class), row.getObject("patient_id", UUID.class), subject,
				row.getInt("reached"), row.getObject("assessed_on", LocalDate.class), score);
	}

	private static Ecca ecca(ResultSet row) throws SQLException {
		var counts = new EnumMap<Ecca.Item, Integer>(Ecca.Item.class);
		for (Ecca.Item item : Ecca.Item.values()) {
			counts.put(item, row.getInt(item.type().word()));
		}
		return new Ecca(counts);
	}

	private LocalDate today() {
		return LocalDate.now(this.clock);
	}

}
