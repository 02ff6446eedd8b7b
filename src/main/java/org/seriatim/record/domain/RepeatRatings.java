package org.seriatim.record.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.RatedDepth;
import org.seriatim.assessment.RepeatedRatings;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.seriatim.statistics.Detectability;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What the clinic still needs for its own repeatability, and what can be rated today. */
@Service
@Transactional(readOnly = true)
public class RepeatRatings {

	private final JdbcClient database;

	RepeatRatings(JdbcClient database) {
		this.database = database;
	}

	/**
	 * A patient with scars that somebody can rate a second time.
	 *
	 * @param own scars that they rated themselves today
	 * @param others scars that only others rated today
	 */
	public record DuePatient(PatientId patient, int own, int others) {
	}

	/** Pairs of ratings, and from how many patients. */
	public record Pairs(int pairs, int patients) {

		static Pairs of(Detectability.@Nullable Known judged) {
			return (judged != null) ? new Pairs(judged.pairs(), judged.patients()) : new Pairs(0, 0);
		}

	}

	/** The pairs of the clinic so far, without what they say. */
	public record PairsSoFar(Pairs between, Pairs within) {
	}

	/** The pairs up to a day; only scars rated more than once on a day can make one. */
	public PairsSoFar soFar(LocalDate day) {
		var ratings = RepeatedRatings.among(this.database.sql("""
				select patient_id, scar_id, assessed_on, assessor_id, repeat, depth_mm, depth_method
				from (
					select *, count(*) over (partition by scar_id, assessed_on) as ratings
					from scar_assessment
					where depth_mm is not null and assessed_on <= :day) rated
				where ratings > 1
				order by scar_id, assessed_on, id""").param("day", day).query((row, index) -> {
			var method = row.getString("depth_method");
			return new RatedDepth(new PatientId(row.getObject("patient_id", UUID.class)),
					new ScarId(row.getObject("scar_id", UUID.class)), row.getObject("assessed_on", LocalDate.class),
					new StaffId(row.getObject("assessor_id", UUID.class)), row.getInt("repeat") == 1,
					row.getBigDecimal("depth_mm").doubleValue(),
					(method != null) ? DepthMethod.valueOf(method.toUpperCase(Locale.ROOT)) : null);
		}).list());
		return new PairsSoFar(Pairs.of(ratings.between()), Pairs.of(ratings.within()));
	}

	/** Patients assessed on a day of whom somebody can rate scars a second time. */
	public List<DuePatient> dueFor(StaffId assessor, LocalDate day) {
		return this.database.sql("""
				with rated as (
					select patient_id, scar_id,
						bool_or(assessor_id = :assessor and repeat = 0 and depth_mm > 0) is true as by_me,
						bool_or(assessor_id = :assessor) as any_by_me,
						bool_or(assessor_id = :assessor and repeat = 1) as repeated,
						bool_or(assessor_id <> :assessor and repeat = 0 and depth_mm > 0) is true as by_others
					from scar_assessment
					where assessed_on = :day
					group by patient_id, scar_id)
				select rated.patient_id, count(*) filter (where by_me and not repeated) as own,
					count(*) filter (where by_others and not any_by_me) as others
				from rated join patient on patient.id = rated.patient_id
				group by rated.patient_id, patient.record_number
				having count(*) filter (where by_me and not repeated or by_others and not any_by_me) > 0
				order by patient.record_number""")
			.param("assessor", assessor.value())
			.param("day", day)
			.query((row, index) -> new DuePatient(new PatientId(row.getObject("patient_id", UUID.class)),
					row.getInt("own"), row.getInt("others")))
			.list();
	}

}
