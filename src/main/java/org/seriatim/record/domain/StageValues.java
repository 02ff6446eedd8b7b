package org.seriatim.record.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.SeriesStages;

/**
 * What was recorded of one thing at each stage of a series: the entries of the last day
 * of the stage that has any.
 *
 * @param <T> kind of entry
 * @param byStage entries by stage from the baseline on; none where the stage has none
 */
public record StageValues<T>(List<List<T>> byStage) {

	public StageValues {
		byStage = byStage.stream().map(List::copyOf).toList();
	}

	/**
	 * Sorts entries into stages.
	 * @param day the day of an entry
	 */
	static <T> StageValues<T> of(SeriesStages stages, Collection<T> entries, Function<T, LocalDate> day) {
		return new StageValues<>(IntStream.rangeClosed(0, stages.last()).mapToObj((stage) -> {
			var ofStage = entries.stream().filter((entry) -> stages.contains(stage, day.apply(entry))).toList();
			var last = ofStage.stream().map(day).max(LocalDate::compareTo);
			return ofStage.stream().filter((entry) -> last.filter(day.apply(entry)::equals).isPresent()).toList();
		}).toList());
	}

	public List<T> baseline() {
		return this.byStage.get(0);
	}

	/** The last stage after the baseline that has an entry; 0 if there is none. */
	public int latestStage() {
		return IntStream.iterate(this.byStage.size() - 1, (stage) -> stage > 0, (stage) -> stage - 1)
			.filter((stage) -> !this.byStage.get(stage).isEmpty())
			.findFirst()
			.orElse(0);
	}

	/** The entries of {@link #latestStage()}; none if that is the baseline. */
	public List<T> latest() {
		var stage = latestStage();
		return (stage > 0) ? this.byStage.get(stage) : List.of();
	}

	public boolean isEmpty() {
		return this.byStage.stream().allMatch(List::isEmpty);
	}

	/** Means by stage; {@code null} where there is none. */
	public List<@Nullable Double> means(Function<T, @Nullable ? extends Number> value) {
		var means = new ArrayList<@Nullable Double>();
		this.byStage.forEach((entries) -> {
			var mean = mean(entries, value);
			means.add(mean.isPresent() ? mean.getAsDouble() : null);
		});
		return means;
	}

	/** Mean over the ratings of one day. */
	static <T> OptionalDouble mean(Collection<T> entries, Function<T, @Nullable ? extends Number> value) {
		return entries.stream()
			.map((entry) -> Optional.<Number>ofNullable(value.apply(entry)).orElse(null))
			.filter(Objects::nonNull)
			.mapToDouble(Number::doubleValue)
			.average();
	}

}
