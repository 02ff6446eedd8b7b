package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.seriatim.assessment.ScarChange;
import org.seriatim.assessment.ScarType;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

class ImprovementFiguresTests {

	/**
	 * Five patients with one scar each: 10, 20, 30, 40, 100 percent. The mean is 40; with
	 * one scar a patient CR2 is the usual standard error of a mean, s / sqrt(5) with s^2
	 * = (30^2 + 20^2 + 10^2 + 0 + 60^2) / 4 = 1250, so sqrt(250), with 4 degrees of
	 * freedom, whose 97.5 % quantile is 2.776445.
	 */
	@Test
	void meansOfOneScarAPatientAreThoseOfAnyTextbook() {
		var row = figures(OptionalDouble.empty(), 10, 20, 30, 40, 100).rows().get(0);
		assertThat(row.mean()).hasValueCloseTo(40.0, within(1e-12));
		assertThat(row.standardError()).hasValueCloseTo(Math.sqrt(250), within(1e-9));
		assertThat(row.limits().low()).isCloseTo(40 - 2.776445 * Math.sqrt(250), within(1e-4));
		assertThat(row.resolved()).isEqualTo(1);
		assertThat(row.better()).isNull();
	}

	/**
	 * SDC ln 1.25 = 0.2231: a depth of 80 % or less of the baseline is better, one of 125
	 * % or more worse. Of 19, 20, 50, 100 and -25 percent three are better and one is
	 * worse; 100 is resolved and changed beyond any error.
	 */
	@Test
	void changesBeyondMeasurementErrorAreCountedBothWays() {
		var row = figures(OptionalDouble.of(Math.log(1.25) - 1e-12), 19, 20, 50, 100, -25).rows().get(0);
		assertThat(row.better().scars()).isEqualTo(3);
		assertThat(row.worse().scars()).isEqualTo(1);
		assertThat(row.worse().share()).isEqualTo(0.2);
	}

	@Test
	void fewerThanFivePatientsHaveCountsOnly() {
		var row = figures(OptionalDouble.of(0.2), 10, 20, 30, 40).rows().get(0);
		assertThat(row.patients()).isEqualTo(4);
		assertThat(row.scars()).isEqualTo(4);
		assertThat(row.mean()).isEmpty();
		assertThat(row.limits()).isNull();
		assertThat(row.better()).isNull();
	}

	private static ImprovementFigures figures(OptionalDouble smallestChange, double... percents) {
		List<ComparedScar> scars = new ArrayList<>();
		for (double percent : percents) {
			scars.add(new ComparedScar(UUID.randomUUID(), UUID.randomUUID(), UUID.randomUUID(), ScarType.BOXCAR, 1,
					new ScarChange.InDepth(percent, Math.log1p(-percent / 100)), null));
		}
		return ImprovementFigures.of(scars, smallestChange);
	}

}
