package org.seriatim.record.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.Repeatability;
import org.seriatim.assessment.ScarChange;
import org.seriatim.assessment.ScarClassification;
import org.seriatim.assessment.ScarState;
import org.seriatim.assessment.SeriesStages;
import org.seriatim.assessment.TrackedScar;

/**
 * One tracked scar through the stages of a series.
 *
 * @param states its state at stage 0, the baseline, to the last stage; empty where the
 * stage has no assessment of it
 * @param response the practitioner's own judgements on the last day of the series that
 * has any, each once
 * @param size length and width on the last day that has either
 * @param leftOut why it is left out of the last stage; none where it is not
 */
public record ScarProgress(TrackedScar scar, List<Optional<ScarState>> states, List<Integer> response,
		@Nullable Size size, @Nullable DepthClass recordedDepthClass, @Nullable ScarStateEntry leftOut) {

	/** Length and width in millimetres, as one assessor measured them. */
	public record Size(LocalDate measuredOn, @Nullable BigDecimal lengthMm, @Nullable BigDecimal widthMm) {
	}

	public ScarProgress {
		states = List.copyOf(states);
		response = List.copyOf(response);
	}

	static ScarProgress of(ScarEntry entry, SeriesStages stages) {
		var rated = entry.rated();
		var states = IntStream.rangeClosed(0, stages.last()).mapToObj((stage) -> stages.state(rated, stage)).toList();
		var ofSeries = entry.assessments()
			.stream()
			.filter((assessment) -> isOfSeries(stages, assessment.assessedOn()))
			.toList();
		var treated = ofSeries.stream().filter((assessment) -> !stages.contains(0, assessment.assessedOn())).toList();
		return new ScarProgress(entry.scar(), states, onLastDay(treated, ScarAssessmentEntry::response),
				last(ofSeries, ScarProgress::size), last(ofSeries, ScarAssessmentEntry::depthClass),
				stages.leftOut(rated, stages.last()).map((left) -> leaving(entry, left)).orElse(null));
	}

	private static @Nullable ScarStateEntry leaving(ScarEntry entry, ScarClassification left) {
		return entry.states().stream().filter((state) -> state.classification().equals(left)).findFirst().orElse(null);
	}

	private static boolean isOfSeries(SeriesStages stages, LocalDate day) {
		return IntStream.rangeClosed(0, stages.last()).anyMatch((stage) -> stages.contains(stage, day));
	}

	private static @Nullable Size size(ScarAssessmentEntry entry) {
		return (entry.lengthMm() != null || entry.widthMm() != null)
				? new Size(entry.assessedOn(), entry.lengthMm(), entry.widthMm()) : null;
	}

	private static <T> @Nullable T last(List<ScarAssessmentEntry> entries,
			Function<ScarAssessmentEntry, @Nullable T> value) {
		return entries.stream().map(value).filter(Objects::nonNull).reduce((earlier, later) -> later).orElse(null);
	}

	private static List<Integer> onLastDay(List<ScarAssessmentEntry> entries,
			Function<ScarAssessmentEntry, @Nullable Integer> value) {
		var rated = entries.stream().filter((entry) -> value.apply(entry) != null).toList();
		if (rated.isEmpty()) {
			return List.of();
		}
		var day = rated.get(rated.size() - 1).assessedOn();
		return rated.stream()
			.filter((entry) -> entry.assessedOn().equals(day))
			.map(value)
			.filter(Objects::nonNull)
			.distinct()
			.sorted()
			.toList();
	}

	public Optional<ScarState> baseline() {
		return this.states.get(0);
	}

	/** The last stage after the baseline at which it was assessed; 0 if there is none. */
	public int latestStage() {
		return IntStream.iterate(this.states.size() - 1, (stage) -> stage > 0, (stage) -> stage - 1)
			.filter((stage) -> this.states.get(stage).isPresent())
			.findFirst()
			.orElse(0);
	}

	/** Its state at {@link #latestStage()}; empty if that is the baseline. */
	public Optional<ScarState> latest() {
		var stage = latestStage();
		return (stage > 0) ? this.states.get(stage) : Optional.empty();
	}

	/**
	 * How it changed from the baseline to its latest stage; empty where it is left out.
	 */
	public Optional<ScarChange> change() {
		return (this.leftOut == null) ? changeTo(latestStage()) : Optional.empty();
	}

	/** How it changed from the baseline to a stage. */
	public Optional<ScarChange> changeTo(int stage) {
		return (stage > 0) ? between(0, stage) : Optional.empty();
	}

	/** How it changed between two stages. */
	Optional<ScarChange> between(int from, int to) {
		return this.states.get(from)
			.flatMap((before) -> this.states.get(to)
				.flatMap((after) -> ScarChange.between(this.scar.type(), before, after)));
	}

	public Optional<Verdict> verdict(@Nullable Repeatability repeatability) {
		return change().map((change) -> Verdict.on(change, repeatability));
	}

	/**
	 * The class of its last measured depth; the class that was recorded where no depth
	 * was measured.
	 */
	public Optional<DepthClass> depthClass() {
		return states().stream()
			.flatMap(Optional::stream)
			.map(ScarState::depth)
			.filter(Objects::nonNull)
			.reduce((earlier, later) -> later)
			.map((depth) -> DepthClass.of(BigDecimal.valueOf(depth.mm())))
			.or(() -> Optional.ofNullable(this.recordedDepthClass));
	}

	/**
	 * Depths by stage, in millimetres, as far as they can be compared with the latest
	 * one; {@code null} where there is none.
	 */
	public List<@Nullable Double> depths() {
		var latest = states().stream()
			.flatMap(Optional::stream)
			.map(ScarState::depth)
			.filter(Objects::nonNull)
			.reduce((earlier, later) -> later)
			.orElse(null);
		var depths = new ArrayList<@Nullable Double>();
		for (var state : this.states) {
			var depth = state.map(ScarState::depth).orElse(null);
			depths.add((depth != null && latest != null && depth.isComparableWith(latest)) ? depth.mm() : null);
		}
		return depths;
	}

	/** Severity grades by stage; {@code null} where there is none. */
	public List<@Nullable Double> severities() {
		var severities = new ArrayList<@Nullable Double>();
		for (var state : this.states) {
			var severity = state.map(ScarState::severity).orElse(null);
			severities.add((severity != null) ? severity.grade() : null);
		}
		return severities;
	}

}
