package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.RatedDepth;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Ratings of one thing on one day, and how well they agree. Limited by the days of the
 * ratings, the region and the scar type; other filters are about sessions and do not
 * apply.
 */
@Service
@Transactional(readOnly = true)
public class RatingRepeatability {

	private final FigureStatements database;

	private final Clock clock;

	RatingRepeatability(FigureStatements database, Clock clock) {
		this.database = database;
		this.clock = clock;
	}

	public RatingAgreement agreement(OutcomeFilter filter) {
		return RatingAgreement.of(depths(filter), grades(filter));
	}

	List<RatingAgreement.GradePair> grades(OutcomeFilter filter) {
		var values = AskedSessions.values(filter, LocalDate.now(this.clock));
		var pairs = new java.util.ArrayList<RatingAgreement.GradePair>();
		pairs.addAll(grades("severity",
				"""
						select a.patient_id, a.scar_id::text as thing, a.assessed_on, a.assessor_id, a.repeat, a.severity as grade
						from scar_assessment a
						join (select scar_id, assessed_on from scar_assessment group by 1, 2 having count(*) > 1) twice
							using (scar_id, assessed_on)
						join scar on scar.id = a.scar_id
						where a.severity is not null and a.assessed_on between :from and :to and a.assessed_on <= :today
							and (cast(:region as text) is null or scar.region = cast(:region as text))
							and (cast(:scarType as text) is null or scar.type = cast(:scarType as text))""",
				values));
		pairs.addAll(grades("pores", """
				select patient_id, patient_id::text || region as thing, assessed_on, assessor_id, 0 as repeat, grade
				from pore_assessment
				where grade is not null and assessed_on between :from and :to and assessed_on <= :today
					and (cast(:region as text) is null or region = cast(:region as text))""", values));
		return pairs;
	}

	List<RatedDepth> depths(OutcomeFilter filter) {
		var values = AskedSessions.values(filter, LocalDate.now(this.clock));
		return this.database.sql("""
				select patient_id, scar_id, assessed_on, assessor_id, repeat, depth_mm, depth_method
				from (
					select a.*, count(*) over (partition by a.scar_id, a.assessed_on) as ratings
					from scar_assessment a
					join (select scar_id, assessed_on from scar_assessment group by 1, 2 having count(*) > 1) twice
						using (scar_id, assessed_on)
					join scar on scar.id = a.scar_id
					where a.depth_mm is not null and a.assessed_on between :from and :to and a.assessed_on <= :today
						and (cast(:region as text) is null or scar.region = cast(:region as text))
						and (cast(:scarType as text) is null or scar.type = cast(:scarType as text))) rated
				where ratings > 1
				order by scar_id, assessed_on, id""").params(values).query((row, index) -> {
			var method = row.getString("depth_method");
			return new RatedDepth(new PatientId(row.getObject("patient_id", UUID.class)),
					new ScarId(row.getObject("scar_id", UUID.class)), row.getObject("assessed_on", LocalDate.class),
					new StaffId(row.getObject("assessor_id", UUID.class)), row.getInt("repeat") == 1,
					row.getBigDecimal("depth_mm").doubleValue(),
					(method != null) ? DepthMethod.valueOf(method.toUpperCase(Locale.ROOT)) : null);
		}).list();
	}

	/** The first two assessors by their ids, and each rating with its blinded repeat. */
	private List<RatingAgreement.GradePair> grades(String measure, String graded,
			Map<String, @Nullable Object> values) {
		return this.database
			.sql("""
					with graded as (%s)
					select 'BETWEEN' as raters, patient, first, second
					from (
						select patient_id::text as patient, grade as first, lead(grade) over rated as second,
							row_number() over rated as place
						from graded where repeat = 0
						window rated as (partition by thing, assessed_on order by assessor_id::text)) firsts
					where place = 1 and second is not null
					union all
					select 'WITHIN', patient_id::text, max(grade) filter (where repeat = 0),
						max(grade) filter (where repeat = 1)
					from graded
					group by patient_id, thing, assessed_on, assessor_id
					having count(*) filter (where repeat = 0) = 1 and count(*) filter (where repeat = 1) = 1"""
				.formatted(graded))
			.params(values)
			.query((row, index) -> new RatingAgreement.GradePair(
					RatingAgreement.Raters.valueOf(row.getString("raters")), row.getString("patient"), measure,
					row.getInt("first"), row.getInt("second")))
			.list();
	}

}
