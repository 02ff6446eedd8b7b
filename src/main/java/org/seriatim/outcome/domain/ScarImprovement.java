package org.seriatim.outcome.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.Repeatability;
import org.seriatim.assessment.ScarChange;
import org.seriatim.assessment.ScarState;
import org.seriatim.assessment.ScarType;
import org.seriatim.followup.MeasurementError;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Whether scars get better here, by their type and by the number of sessions. */
@Service
@Transactional(readOnly = true)
public class ScarImprovement {

	private final JdbcClient database;

	private final MeasurementError error;

	private final Clock clock;

	ScarImprovement(JdbcClient database, MeasurementError error, Clock clock) {
		this.database = database;
		this.error = error;
		this.clock = clock;
	}

	/**
	 * What was asked, and what the records say.
	 *
	 * @param error how large a change must be, or what is missing to tell; none before
	 * the first snapshot of the clinic's figures
	 */
	public record Answer(ImprovementFigures figures, Optional<Repeatability> error) {

		/**
		 * The smallest detectable change on the scale of logarithms, where it is known.
		 */
		public OptionalDouble smallestChange() {
			return smallestChange(this.error);
		}

		private static OptionalDouble smallestChange(Optional<Repeatability> error) {
			return (error.orElse(null) instanceof Repeatability.Known known)
					? OptionalDouble.of(known.smallestDetectableChange()) : OptionalDouble.empty();
		}

	}

	public Answer answer(OutcomeFilter filter) {
		var current = this.error.current();
		return new Answer(ImprovementFigures.of(compared(filter), Answer.smallestChange(current)), current);
	}

	/**
	 * Every scar that was assessed at a stage, with its change, and every scar that is
	 * left out of it: by the same rules as {@link org.seriatim.assessment.SeriesStages},
	 * in one statement for a whole clinic.
	 */
	List<ComparedScar> compared(OutcomeFilter filter) {
		AskedStages.joinWholeTables(this.database);
		return this.database
			.sql("""
					with %s,
					asked_scar as (
						select * from scar where (cast(:region as text) is null or region = cast(:region as text))
							and (cast(:scarType as text) is null or type = cast(:scarType as text))),
					rated as (
						select scar_assessment.patient_id, scar_id, assessed_on, depth_mm, depth_method, severity
						from scar_assessment
						join asked_scar on asked_scar.id = scar_assessment.scar_id
						where depth_mm is not null or severity is not null
						union all
						select scar_state.patient_id, scar_id, assessed_on, 0, (
							select depth_method from scar_assessment before
							where before.scar_id = scar_state.scar_id and depth_mm is not null
								and before.assessed_on < scar_state.assessed_on
							order by before.assessed_on desc limit 1), null
						from scar_state
						join asked_scar on asked_scar.id = scar_state.scar_id
						where state = 'resolved' and asked_scar.type in ('ice_pick', 'boxcar', 'rolling', 'linear', 'fold')
							and not exists (select from scar_assessment measured
								where measured.scar_id = scar_state.scar_id and depth_mm is not null
									and measured.assessed_on = scar_state.assessed_on)),
					classified as (
						select scar_state.patient_id, scar_id, assessed_on, state in ('merged', 'split', 'excluded') as leaves
						from scar_state
						join asked_scar on asked_scar.id = scar_state.scar_id
						where state in ('merged', 'split', 'excluded', 'assessed', 'resolved')),
					left_later as (
						select session_id, scar_id from (
							select distinct on (session_id, scar_id) session_id, scar_id, leaves
							from stages join classified using (patient_id)
							where assessed_on <= ends_on
							order by session_id, scar_id, assessed_on desc, leaves desc) last
						where leaves),
					left_first as (
						select series_id, scar_id from (
							select distinct on (series_id, scar_id) series_id, scar_id, leaves
							from stages join classified using (patient_id)
							where assessed_on <= first_on
							order by series_id, scar_id, assessed_on desc, leaves desc) last
						where leaves),
					later_depth as (
						select distinct on (session_id, scar_id) session_id, scar_id, assessed_on,
							avg(depth_mm)::float8 as mm,
							case when count(depth_method) = count(*) and count(distinct depth_method) = 1
								then min(depth_method) end as method
						from stages join rated using (patient_id)
						where depth_mm is not null and assessed_on > treated_on and assessed_on <= ends_on
						group by session_id, scar_id, assessed_on
						order by session_id, scar_id, assessed_on desc),
					later_severity as (
						select distinct on (session_id, scar_id) session_id, scar_id, assessed_on,
							avg(severity)::float8 as grade
						from stages join rated using (patient_id)
						where severity is not null and assessed_on > treated_on and assessed_on <= ends_on
						group by session_id, scar_id, assessed_on
						order by session_id, scar_id, assessed_on desc),
					began as (select distinct series_id, patient_id, first_on from stages),
					first_depth as (
						select distinct on (series_id, scar_id) series_id, scar_id, assessed_on,
							avg(depth_mm)::float8 as mm,
							case when count(depth_method) = count(*) and count(distinct depth_method) = 1
								then min(depth_method) end as method
						from began join rated using (patient_id)
						where depth_mm is not null and assessed_on <= first_on
						group by series_id, scar_id, assessed_on
						order by series_id, scar_id, assessed_on desc),
					first_severity as (
						select distinct on (series_id, scar_id) series_id, scar_id, assessed_on,
							avg(severity)::float8 as grade
						from began join rated using (patient_id)
						where severity is not null and assessed_on <= first_on
						group by series_id, scar_id, assessed_on
						order by series_id, scar_id, assessed_on desc),
					seen as (select session_id, scar_id from later_depth union select session_id, scar_id from later_severity
						union select session_id, scar_id from left_later)
					select stages.patient_id, stages.series_id, stages.stage, scar.id as scar_id, scar.type,
						later_depth.assessed_on as later_measured_on, later_depth.mm as later_mm,
						later_depth.method as later_method,
						later_severity.assessed_on as later_judged_on, later_severity.grade as later_grade,
						first_depth.assessed_on as first_measured_on, first_depth.mm as first_mm,
						first_depth.method as first_method,
						first_severity.assessed_on as first_judged_on, first_severity.grade as first_grade,
						left_later.scar_id is not null or left_first.scar_id is not null as not_followed
					from seen
					join stages using (session_id)
					join scar on scar.id = seen.scar_id
					left join later_depth on later_depth.session_id = seen.session_id and later_depth.scar_id = seen.scar_id
					left join later_severity
						on later_severity.session_id = seen.session_id and later_severity.scar_id = seen.scar_id
					left join first_depth
						on first_depth.series_id = stages.series_id and first_depth.scar_id = seen.scar_id
					left join first_severity
						on first_severity.series_id = stages.series_id and first_severity.scar_id = seen.scar_id
					left join left_later
						on left_later.session_id = seen.session_id and left_later.scar_id = seen.scar_id
					left join left_first
						on left_first.series_id = stages.series_id and left_first.scar_id = seen.scar_id
					order by stages.series_id, seen.scar_id, stages.stage"""
				.formatted(AskedStages.TABLE))
			.params(AskedSessions.values(filter, LocalDate.now(this.clock)))
			.query((row, index) -> compared(row))
			.list();
	}

	private static ComparedScar compared(ResultSet row) throws SQLException {
		var type = ScarType.valueOf(row.getString("type").toUpperCase(Locale.ROOT));
		if (row.getBoolean("not_followed")) {
			return new ComparedScar(row.getObject("patient_id", UUID.class), row.getObject("series_id", UUID.class),
					row.getObject("scar_id", UUID.class), type, row.getInt("stage"), null,
					ComparedScar.LeftOut.NOT_FOLLOWED);
		}
		var baseline = state(row, "first");
		var change = ScarChange.between(type, baseline, state(row, "later"));
		ComparedScar.LeftOut leftOut = null;
		if (change.isEmpty()) {
			leftOut = (baseline.depth() == null && baseline.severity() == null) ? ComparedScar.LeftOut.NO_BASELINE
					: ComparedScar.LeftOut.NOT_COMPARABLE;
		}
		return new ComparedScar(row.getObject("patient_id", UUID.class), row.getObject("series_id", UUID.class),
				row.getObject("scar_id", UUID.class), type, row.getInt("stage"), change.orElse(null), leftOut);
	}

	private static ScarState state(ResultSet row, String when) throws SQLException {
		var measuredOn = row.getObject(when + "_measured_on", LocalDate.class);
		var judgedOn = row.getObject(when + "_judged_on", LocalDate.class);
		return new ScarState((measuredOn != null)
				? new ScarState.Depth(measuredOn, row.getDouble(when + "_mm"), method(row, when + "_method")) : null,
				(judgedOn != null) ? new ScarState.Severity(judgedOn, row.getDouble(when + "_grade")) : null);
	}

	private static @Nullable DepthMethod method(ResultSet row, String column) throws SQLException {
		var word = row.getString(column);
		return (word != null) ? DepthMethod.valueOf(word.toUpperCase(Locale.ROOT)) : null;
	}

}
