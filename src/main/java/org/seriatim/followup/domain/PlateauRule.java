package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

import org.seriatim.assessment.RatedScar;
import org.seriatim.assessment.Repeatability;
import org.seriatim.assessment.ScarState;
import org.seriatim.assessment.SeriesStages;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Rule;
import org.seriatim.followup.Sentence;
import org.seriatim.treatment.SessionFacts;

/**
 * In neither of the last two steps between stages did the depth of the scars fall by more
 * than measurement error: a further session of the same kind is not shown to help.
 */
class PlateauRule implements AdviceRule {

	@Override
	public Optional<Ruling> on(AdvisedCase advised, LocalDate firstSoFar) {
		if (!(advised.repeatability() instanceof Repeatability.Known known)) {
			return Optional.empty();
		}
		var stages = new SeriesStages(advised.facts().ofSeries().stream().map(SessionFacts::treatedOn).toList(),
				advised.facts().nextSeriesOn().orElse(null));
		var latest = stages.last();
		if (latest < advised.protocol().plateauSessions()) {
			return Optional.empty();
		}
		var before = Step.to(latest - 1, stages, advised.facts().scars());
		var last = Step.to(latest, stages, advised.facts().scars());
		var change = known.smallestDetectableChange();
		var scars = advised.protocol().plateauScars();
		if (!before.isWithinError(change, scars) || !last.isWithinError(change, scars)) {
			return Optional.empty();
		}
		return Optional.of(Ruling
			.of(Rule.PLATEAU,
					Sentence.of("followup.rule.plateau", Argument.number(latest - 1), Argument.number(before.scars()),
							Argument.number(before.percent()), Argument.number(before.detectablePercent(change)),
							Argument.number(latest), Argument.number(last.scars()), Argument.number(last.percent()),
							Argument.number(last.detectablePercent(change))),
					evidence(last, known))
			.asks(AdviceStatus.REVIEW_PLAN));
	}

	private static List<Evidence> evidence(Step last, Repeatability.Known known) {
		var evidence = new ArrayList<>(last.measured().stream().map(Evidence::of).toList());
		evidence.add(Evidence.ofRepeatability(known.error().pairs()));
		return evidence;
	}

	/**
	 * A step from one stage to the next.
	 *
	 * @param measured scars with a depth above 0 at both ends
	 * @param meanLogRatio mean over them of \( \ln(d_k / d_{k-1}) \); empty without any
	 */
	private record Step(List<RatedScar> measured, OptionalDouble meanLogRatio) {

		static Step to(int stage, SeriesStages stages, List<RatedScar> scars) {
			var measured = new ArrayList<RatedScar>();
			var logRatios = new ArrayList<Double>();
			for (var scar : scars) {
				logRatio(stages.state(scar, stage - 1), stages.state(scar, stage))
					.filter((ratio) -> scar.type().hasDepthStatistics())
					.ifPresent((ratio) -> {
						measured.add(scar);
						logRatios.add(ratio);
					});
			}
			return new Step(measured, logRatios.stream().mapToDouble(Double::doubleValue).average());
		}

		private static Optional<Double> logRatio(Optional<ScarState> before, Optional<ScarState> after) {
			var from = before.map(ScarState::depth).orElse(null);
			var to = after.map(ScarState::depth).orElse(null);
			return (from != null && to != null && from.mm() > 0 && to.mm() > 0 && from.isComparableWith(to))
					? Optional.of(Math.log(to.mm() / from.mm())) : Optional.empty();
		}

		int scars() {
			return this.measured.size();
		}

		boolean isWithinError(double smallestDetectableChange, int minimumScars) {
			return scars() >= minimumScars && this.meanLogRatio.getAsDouble() > -ofMean(smallestDetectableChange);
		}

		/** The smallest detectable change of a mean over the scars. */
		private double ofMean(double smallestDetectableChange) {
			return smallestDetectableChange / Math.sqrt(scars());
		}

		/** Improvement of the geometric mean of the depths, in percent. */
		double percent() {
			return -100 * Math.expm1(this.meanLogRatio.getAsDouble());
		}

		double detectablePercent(double smallestDetectableChange) {
			return -100 * Math.expm1(-ofMean(smallestDetectableChange));
		}

	}

}
