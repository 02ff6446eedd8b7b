package org.seriatim.record.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Repeatability;
import org.seriatim.assessment.SeriesStages;

/**
 * The figures of a series' page: what the record says about change, stage by stage.
 *
 * @param stages number of the last stage, which equals the number of sessions
 * @param complete counts of the whole face, each of which has an ECCA score; a later
 * count of a part of the face does not take the place of one of them
 * @param repeatability the clinic's own; none before it was first estimated
 */
public record SeriesFigures(int stages, List<ScarProgress> scars, List<PoreProgress> pores, List<ScaleProgress> scales,
		StageValues<Counted> counts, StageValues<Counted> complete, @Nullable Repeatability repeatability) {

	/**
	 * Before the first session everything that was seen is the baseline so far.
	 */
	private static final SeriesStages BEFORE_THE_FIRST_SESSION = new SeriesStages(List.of(LocalDate.MAX), null);

	public SeriesFigures {
		scars = List.copyOf(scars);
		pores = List.copyOf(pores);
		scales = List.copyOf(scales);
	}

	public static SeriesFigures of(SeriesRecord record, @Nullable Repeatability repeatability) {
		var stages = record.stages().orElse(BEFORE_THE_FIRST_SESSION);
		var counted = Counted.all(record.counts());
		return new SeriesFigures(record.sessions().size(),
				record.scars().stream().map((scar) -> ScarProgress.of(scar, stages)).toList(),
				PoreProgress.of(record.pores(), stages), ScaleProgress.of(record.globals(), stages),
				StageValues.of(stages, counted, Counted::on),
				StageValues.of(stages, counted.stream().filter(Counted::isComplete).toList(), Counted::on),
				repeatability);
	}

	/**
	 * The step to the last stage at which a scar can be compared with an earlier one,
	 * from the last such stage before it. It is the change since the last session if it
	 * leads to the last stage.
	 */
	public Optional<StageStep> latestStep() {
		return descending(this.stages, 1).flatMap((to) -> descending(to - 1, 0).map((from) -> step(from, to)))
			.filter((step) -> !step.isEmpty())
			.findFirst();
	}

	private static Stream<Integer> descending(int from, int to) {
		return IntStream.iterate(from, (stage) -> stage >= to, (stage) -> stage - 1).boxed();
	}

	/**
	 * From the baseline to the last stage at which each scar was assessed.
	 */
	public StageStep sinceBaseline() {
		return StageStep.of(0, this.stages,
				this.scars.stream().map(ScarProgress::change).flatMap(Optional::stream).toList(), this.repeatability);
	}

	private StageStep step(int from, int to) {
		return StageStep.of(from, to,
				this.scars.stream().map((scar) -> scar.between(from, to)).flatMap(Optional::stream).toList(),
				this.repeatability);
	}

	/**
	 * How the grades of pores changed on the step to the last stage at which one can be
	 * compared with an earlier one; empty where there is none.
	 */
	public Optional<PoreStep> latestPoreStep() {
		return descending(this.stages, 1)
			.flatMap((to) -> descending(to - 1, 0).map((from) -> new PoreStep(from, to, poreChanges(from, to))))
			.filter((step) -> !step.changes().isEmpty())
			.findFirst();
	}

	private List<Double> poreChanges(int from, int to) {
		return this.pores.stream().map((region) -> region.gradeChange(from, to)).flatMap(Optional::stream).toList();
	}

	/**
	 * How the grades of pores changed between two stages.
	 *
	 * @param changes later minus earlier, one for each region that was graded at both
	 */
	public record PoreStep(int from, int to, List<Double> changes) {

		public PoreStep {
			changes = List.copyOf(changes);
		}

		public int better() {
			return (int) this.changes.stream().filter((change) -> change < 0).count();
		}

		public int worse() {
			return (int) this.changes.stream().filter((change) -> change > 0).count();
		}

		public int same() {
			return this.changes.size() - better() - worse();
		}

	}

}
