package org.seriatim.assessment;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;

/**
 * The stages of a series. Stage k is the state after k of its sessions: the last
 * assessment dated after session k and no later than session k + 1, since an assessment
 * on the day of a session is made before it. Stage 0, the baseline, is the last
 * assessment on or before the day of the first session; the last stage ends on the day on
 * which the patient's next series begins.
 *
 * @param sessionDays days of the sessions of the series in their order, at least one
 * @param nextSeriesOn day of the first session of the patient's next series
 */
public record SeriesStages(List<LocalDate> sessionDays, @Nullable LocalDate nextSeriesOn) {

	public SeriesStages {
		sessionDays = List.copyOf(sessionDays);
		if (sessionDays.isEmpty()) {
			throw new IllegalArgumentException("a series without a session has no stages");
		}
	}

	/** Number of the last stage, which equals the number of sessions. */
	public int last() {
		return this.sessionDays.size();
	}

	/** Whether an assessment of this day belongs to the stage. */
	public boolean contains(int stage, LocalDate day) {
		return (stage == 0 || day.isAfter(this.sessionDays.get(stage - 1))) && !endsBefore(stage, day);
	}

	private boolean endsBefore(int stage, LocalDate day) {
		var end = end(stage);
		return end != null && day.isAfter(end);
	}

	/** The last day of a stage; none where it has not ended. */
	private @Nullable LocalDate end(int stage) {
		return (stage < last()) ? this.sessionDays.get(stage) : this.nextSeriesOn;
	}

	/**
	 * Why a scar is left out of a stage: it had merged, split or been excluded by its
	 * end, and nobody has followed it again since.
	 */
	public Optional<ScarClassification> leftOut(RatedScar scar, int stage) {
		return scar.leftBy(end(stage));
	}

	/**
	 * The state of a scar at a stage; empty when no rating of the stage says anything, or
	 * when it is left out of it.
	 */
	public Optional<ScarState> state(RatedScar scar, int stage) {
		if (leftOut(scar, stage).isPresent()) {
			return Optional.empty();
		}
		var ofStage = scar.ratingsAndResolutions()
			.stream()
			.filter((rating) -> contains(stage, rating.assessedOn()))
			.toList();
		var depths = onLastDay(ofStage, ScarRating::depthMm);
		var severities = onLastDay(ofStage, ScarRating::severity);
		if (depths.isEmpty() && severities.isEmpty()) {
			return Optional.empty();
		}
		return Optional.of(new ScarState(depths.isEmpty() ? null : depth(depths),
				severities.isEmpty() ? null : severity(severities)));
	}

	private static List<ScarRating> onLastDay(Collection<ScarRating> ratings, Function<ScarRating, @Nullable ?> value) {
		var rated = ratings.stream().filter((rating) -> value.apply(rating) != null).toList();
		var last = rated.stream().map(ScarRating::assessedOn).max(LocalDate::compareTo);
		return rated.stream().filter((rating) -> last.filter(rating.assessedOn()::equals).isPresent()).toList();
	}

	private static ScarState.Depth depth(List<ScarRating> ofOneDay) {
		var methods = ofOneDay.stream()
			.map((rating) -> Optional.ofNullable(rating.method()))
			.collect(Collectors.toSet());
		var mean = ofOneDay.stream()
			.map(ScarRating::depthMm)
			.filter(Objects::nonNull)
			.mapToDouble(Double::doubleValue)
			.average()
			.orElseThrow();
		return new ScarState.Depth(ofOneDay.get(0).assessedOn(), mean,
				(methods.size() == 1) ? ofOneDay.get(0).method() : null);
	}

	private static ScarState.Severity severity(List<ScarRating> ofOneDay) {
		var mean = ofOneDay.stream()
			.map(ScarRating::severity)
			.filter(Objects::nonNull)
			.mapToInt(Integer::intValue)
			.average()
			.orElseThrow();
		return new ScarState.Severity(ofOneDay.get(0).assessedOn(), mean);
	}

}
