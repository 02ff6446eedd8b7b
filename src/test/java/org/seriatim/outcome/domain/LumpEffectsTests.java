package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.seriatim.statistics.DurationInterval;

import static org.assertj.core.api.Assertions.assertThat;

class LumpEffectsTests {

	/**
	 * Durations of a Weibull distribution of shape 1.5, half as long in the deep layer,
	 * seen every three days: the planted 0.5 lies within the limits and far from 1.
	 */
	@Test
	void findsAPlantedEffectWithinItsLimits() {
		var effects = LumpEffects.of(planted(0.5));
		assertThat(effects.problem()).isNull();
		assertThat(effects.references()).containsEntry(LumpEffects.Factor.LAYER, "mid_dermis");
		var layer = effects.effects().get(0);
		assertThat(layer.level()).isEqualTo("deep_dermis");
		assertThat(layer.limits().low()).isLessThan(0.5);
		assertThat(layer.limits().high()).isBetween(0.5, 0.8);
		assertThat(effects.shape().getAsDouble()).isBetween(1.2, 1.8);
		assertThat(effects.checks()).allSatisfy(
				(check) -> assertThat(check.modelled()).isBetween(check.seen().low() - 0.1, check.seen().high() + 0.1));
	}

	@Test
	void leavesOutWhatIsUnknownOrRareAndSaysSo() {
		var cases = new ArrayList<>(planted(0.5));
		cases.add(new LumpEffects.Case("x", DurationInterval.between(1, 4), Map.of(), 0.02));
		cases.add(new LumpEffects.Case("y", DurationInterval.between(1, 4),
				Map.of(LumpEffects.Factor.LAYER, "below_dermis"), 0.02));
		var effects = LumpEffects.of(cases);
		assertThat(effects.leftOut()).isEqualTo(2);
		assertThat(effects.notEntered()).contains(LumpEffects.Factor.MASSAGE, LumpEffects.Factor.REGION);
	}

	@Test
	void saysThatThereAreTooFew() {
		assertThat(LumpEffects.of(planted(0.5).subList(0, 12)).problem()).isEqualTo(LumpEffects.Problem.TOO_FEW);
		assertThat(LumpEffects.of(List.of()).problem()).isEqualTo(LumpEffects.Problem.TOO_FEW);
	}

	private static List<LumpEffects.Case> planted(double ratio) {
		var random = new Random(7);
		var cases = new ArrayList<LumpEffects.Case>();
		for (int i = 0; i < 300; i++) {
			boolean deep = i % 5 < 2;
			double days = (deep ? ratio : 1) * 10 * Math.pow(-Math.log(1 - random.nextDouble()), 1 / 1.5);
			double seen = 3 * Math.floor(days / 3);
			cases.add(new LumpEffects.Case("p" + i / 3, DurationInterval.between(seen, seen + 3),
					Map.of(LumpEffects.Factor.LAYER, deep ? "deep_dermis" : "mid_dermis"), 0.02));
		}
		return cases;
	}

}
