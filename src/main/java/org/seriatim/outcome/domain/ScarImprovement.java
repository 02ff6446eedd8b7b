package org.seriatim.outcome.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.Repeatability;
import org.seriatim.assessment.ScarType;
import org.seriatim.followup.MeasurementError;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Whether scars get better here, by their type and by the number of sessions. */
@Service
@Transactional(readOnly = true)
public class ScarImprovement {

	private static final int FETCHED_AT_ONCE = 10_000;

	/** Every rating with the stage that it lies in, 0 for a baseline. */
	private static final String RATED = """
			with %s,
			asked_scar as (
				select id, type from scar where (cast(:region as text) is null or region = cast(:region as text))
					and (cast(:scarType as text) is null or type = cast(:scarType as text))),
			rated as (
				select scar_assessment.patient_id, scar_id, type, assessed_on, depth_mm, depth_method, severity
				from scar_assessment
				join asked_scar on asked_scar.id = scar_assessment.scar_id
				where depth_mm is not null or severity is not null
				union all
				select scar_state.patient_id, scar_id, type, assessed_on, 0, (
					select depth_method from scar_assessment before
					where before.scar_id = scar_state.scar_id and depth_mm is not null
						and before.assessed_on < scar_state.assessed_on
					order by before.assessed_on desc limit 1), null
				from scar_state
				join asked_scar on asked_scar.id = scar_state.scar_id
				where state = 'resolved' and type in ('ice_pick', 'boxcar', 'rolling', 'linear', 'fold')
					and not exists (select from scar_assessment measured
						where measured.scar_id = scar_state.scar_id and depth_mm is not null
							and measured.assessed_on = scar_state.assessed_on))
			select series_id, patient_id, case when assessed_on > first_on then stage else 0 end as stage, scar_id, type,
				assessed_on, depth_mm, depth_method, severity
			from begun join rated using (patient_id)
			where assessed_on > treated_on and assessed_on <= ends_on or begins and assessed_on <= first_on"""
		.formatted(AskedStages.BEGUN);

	/** Every scar that had merged, split or been excluded by the end of a stage. */
	private static final String LEFT = """
			with %s,
			classified as (
				select scar_state.patient_id, scar_id, type, assessed_on, state in ('merged', 'split', 'excluded') as leaves
				from scar_state
				join scar on scar.id = scar_state.scar_id
				where state in ('merged', 'split', 'excluded', 'assessed', 'resolved')
					and (cast(:region as text) is null or region = cast(:region as text))
					and (cast(:scarType as text) is null or type = cast(:scarType as text)))
			select series_id, patient_id, stage, scar_id, type from (
				select distinct on (session_id, scar_id) series_id, patient_id, stage, scar_id, type, leaves
				from begun join classified using (patient_id)
				where assessed_on <= ends_on
				order by session_id, scar_id, assessed_on desc, leaves desc) last
			where leaves
			union all
			select series_id, patient_id, 0, scar_id, type from (
				select distinct on (series_id, scar_id) series_id, patient_id, scar_id, type, leaves
				from begun join classified using (patient_id)
				where assessed_on <= first_on
				order by series_id, scar_id, assessed_on desc, leaves desc) first
			where leaves"""
		.formatted(AskedStages.BEGUN);

	private final FigureStatements database;

	private final MeasurementError error;

	private final Clock clock;

	ScarImprovement(FigureStatements database, MeasurementError error, Clock clock) {
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
	 * in one pass over the ratings of a whole clinic.
	 */
	List<ComparedScar> compared(OutcomeFilter filter) {
		record Key(UUID series, UUID scar) {
		}
		var values = AskedSessions.values(filter, LocalDate.now(this.clock));
		var courses = new HashMap<Key, ScarCourse>();
		AskedStages.joinWholeTables(this.database);
		this.database.sql(RATED).params(values).withFetchSize(FETCHED_AT_ONCE).query((row) -> {
			int severity = row.getInt("severity");
			boolean judged = !row.wasNull();
			double mm = row.getDouble("depth_mm");
			boolean measured = !row.wasNull();
			courses
				.computeIfAbsent(new Key(row.getObject("series_id", UUID.class), row.getObject("scar_id", UUID.class)),
						(key) -> course(row))
				.rate(row.getInt("stage"), row.getObject("assessed_on", LocalDate.class), measured ? mm : null,
						method(row), judged ? severity : null);
		});
		this.database.sql(LEFT).params(values).query((row) -> {
			courses
				.computeIfAbsent(new Key(row.getObject("series_id", UUID.class), row.getObject("scar_id", UUID.class)),
						(key) -> course(row))
				.leave(row.getInt("stage"));
		});
		return courses.entrySet()
			.stream()
			.sorted(Map.Entry.comparingByKey(Comparator.comparing(Key::series).thenComparing(Key::scar)))
			.flatMap((course) -> course.getValue().compared(course.getKey().series(), course.getKey().scar()).stream())
			.toList();
	}

	private static ScarCourse course(ResultSet row) {
		try {
			return new ScarCourse(row.getObject("patient_id", UUID.class),
					ScarType.valueOf(row.getString("type").toUpperCase(Locale.ROOT)));
		}
		catch (SQLException ex) {
			throw new IllegalStateException(ex);
		}
	}

	private static @Nullable DepthMethod method(ResultSet row) throws SQLException {
		var word = row.getString("depth_method");
		return (word != null) ? DepthMethod.valueOf(word.toUpperCase(Locale.ROOT)) : null;
	}

}
