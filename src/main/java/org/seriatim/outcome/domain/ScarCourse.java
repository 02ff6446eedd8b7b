package org.seriatim.outcome.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.ScarChange;
import org.seriatim.assessment.ScarState;
import org.seriatim.assessment.ScarType;

/**
 * One scar through one series, put together from its ratings in any order: of each stage
 * the last day with a depth and the last with a severity count, the ratings of one day by
 * their mean, as {@link org.seriatim.assessment.SeriesStages} says.
 */
final class ScarCourse {

	private static final int BASELINE = 0;

	private final UUID patient;

	private final ScarType type;

	private final Map<Integer, Stage> stages = new TreeMap<>();

	ScarCourse(UUID patient, ScarType type) {
		this.patient = patient;
		this.type = type;
	}

	/** One rating within a stage. */
	void rate(int stage, LocalDate day, @Nullable Double mm, @Nullable DepthMethod method, @Nullable Integer severity) {
		var ofStage = stage(stage);
		if (mm != null) {
			ofStage.measure(day, mm, method);
		}
		if (severity != null) {
			ofStage.judge(day, severity);
		}
	}

	/** By the end of the stage it had merged, split or been excluded. */
	void leave(int stage) {
		stage(stage).left = true;
	}

	private Stage stage(int stage) {
		return this.stages.computeIfAbsent(stage, (number) -> new Stage());
	}

	/** What it says at each stage at which it was rated or had left. */
	List<ComparedScar> compared(UUID series, UUID scar) {
		var baseline = this.stages.getOrDefault(BASELINE, new Stage());
		var compared = new ArrayList<ComparedScar>();
		this.stages.forEach((number, stage) -> {
			if (number != BASELINE) {
				compared.add(compared(series, scar, number, baseline, stage));
			}
		});
		return compared;
	}

	private ComparedScar compared(UUID series, UUID scar, int number, Stage baseline, Stage stage) {
		if (baseline.left || stage.left) {
			return new ComparedScar(this.patient, series, scar, this.type, number, null,
					ComparedScar.LeftOut.NOT_FOLLOWED);
		}
		var change = ScarChange.between(this.type, baseline.state(), stage.state());
		ComparedScar.LeftOut leftOut = null;
		if (change.isEmpty()) {
			leftOut = baseline.isEmpty() ? ComparedScar.LeftOut.NO_BASELINE : ComparedScar.LeftOut.NOT_COMPARABLE;
		}
		return new ComparedScar(this.patient, series, scar, this.type, number, change.orElse(null), leftOut);
	}

	private static final class Stage {

		private @Nullable LocalDate measuredOn;

		private double mm;

		private int depths;

		private @Nullable DepthMethod method;

		private @Nullable LocalDate judgedOn;

		private double severity;

		private int severities;

		private boolean left;

		void measure(LocalDate day, double depth, @Nullable DepthMethod by) {
			if (this.measuredOn == null || day.isAfter(this.measuredOn)) {
				this.measuredOn = day;
				this.mm = 0;
				this.depths = 0;
				this.method = by;
			}
			else if (day.isBefore(this.measuredOn)) {
				return;
			}
			this.mm += depth;
			this.depths++;
			if (this.method != by) {
				this.method = null;
			}
		}

		void judge(LocalDate day, int grade) {
			if (this.judgedOn == null || day.isAfter(this.judgedOn)) {
				this.judgedOn = day;
				this.severity = 0;
				this.severities = 0;
			}
			else if (day.isBefore(this.judgedOn)) {
				return;
			}
			this.severity += grade;
			this.severities++;
		}

		boolean isEmpty() {
			return this.measuredOn == null && this.judgedOn == null;
		}

		ScarState state() {
			return new ScarState(
					(this.measuredOn != null) ? new ScarState.Depth(this.measuredOn, this.mm / this.depths, this.method)
							: null,
					(this.judgedOn != null) ? new ScarState.Severity(this.judgedOn, this.severity / this.severities)
							: null);
		}

	}

}
