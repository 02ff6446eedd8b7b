package org.seriatim.record.domain;

import java.util.Arrays;
import java.util.Collection;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Repeatability;
import org.seriatim.assessment.ScarChange;

/**
 * How the tracked scars changed between two stages of a series.
 *
 * @param from the earlier stage
 * @param to the later stage
 * @param inDepth scars whose depth can be compared, by verdict
 * @param grades changes of the severity grade of scars whose depth cannot
 * @param meanLogRatio mean of \( \ln(d_{to} / d_{from}) \) over the scars with a depth
 * above 0 at both stages; empty without any
 * @param meanOver number of those scars
 */
public record StageStep(int from, int to, Map<Verdict, Integer> inDepth, List<Double> grades,
		OptionalDouble meanLogRatio, int meanOver) {

	public StageStep {
		inDepth = Map.copyOf(inDepth);
		grades = List.copyOf(grades);
	}

	static StageStep of(int from, int to, Collection<ScarChange> changes, @Nullable Repeatability repeatability) {
		var inDepth = new EnumMap<Verdict, Integer>(Verdict.class);
		changes.stream()
			.filter(ScarChange.InDepth.class::isInstance)
			.forEach((change) -> inDepth.merge(Verdict.on(change, repeatability), 1, Integer::sum));
		var grades = changes.stream()
			.map((change) -> (change instanceof ScarChange.InGrade inGrade) ? inGrade.grades() : null)
			.filter(Objects::nonNull)
			.toList();
		var logRatios = changes.stream()
			.filter((change) -> change instanceof ScarChange.InDepth depth && !depth.isResolved())
			.mapToDouble((change) -> ((ScarChange.InDepth) change).logRatio())
			.toArray();
		return new StageStep(from, to, inDepth, grades, Arrays.stream(logRatios).average(), logRatios.length);
	}

	/** Number of scars whose depth was measured at both stages by one method. */
	public int measured() {
		return this.inDepth.values().stream().mapToInt(Integer::intValue).sum();
	}

	public int with(Verdict verdict) {
		return this.inDepth.getOrDefault(verdict, 0);
	}

	/** Scars whose severity grade fell, where only the grade can be compared. */
	public int gradesBetter() {
		return (int) this.grades.stream().filter((change) -> change < 0).count();
	}

	/** Scars whose severity grade rose, where only the grade can be compared. */
	public int gradesWorse() {
		return (int) this.grades.stream().filter((change) -> change > 0).count();
	}

	public boolean isEmpty() {
		return this.inDepth.isEmpty() && this.grades.isEmpty();
	}

	/** Change of the geometric mean of the depths in percent; negative is shallower. */
	public OptionalDouble meanPercent() {
		return this.meanLogRatio.isPresent() ? OptionalDouble.of(100 * Math.expm1(this.meanLogRatio.getAsDouble()))
				: OptionalDouble.empty();
	}

	/**
	 * The fall of that mean, in percent, from which on it exceeds measurement error: the
	 * smallest detectable change of one scar divided by the root of their number.
	 */
	public Optional<Double> detectablePercent(@Nullable Repeatability repeatability) {
		return (this.meanOver == 0) ? Optional.empty() : Verdict.smallestDetectableChange(repeatability)
			.map((smallest) -> -100 * Math.expm1(-smallest / Math.sqrt(this.meanOver)));
	}

}
