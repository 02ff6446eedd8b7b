package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.seriatim.assessment.ScarChange;
import org.seriatim.assessment.ScarType;
import org.seriatim.outcome.ExpectedGain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

class SessionGainsTests {

	/**
	 * Six patients with two scars each, one session. In a balanced design the mixed model
	 * is the textbook's one-way analysis: the mean of the patients' means, their standard
	 * deviation over the root of 6, and 5 degrees of freedom, whose 97.5 % quantile is
	 * 2.570582. Means of patients 0.1 to 0.6: mean 0.35, variance 0.035; within patients
	 * the scars differ by 0.02.
	 */
	@Test
	void balancedStepsGiveTheAnalysisOfAnyTextbook() {
		List<ComparedScar> scars = new ArrayList<>();
		for (int patient = 1; patient <= 6; patient++) {
			var who = new UUID(0, patient);
			scars.addAll(course(who, 0.1 * patient - 0.01));
			scars.addAll(course(who, 0.1 * patient + 0.01));
		}
		var gain = SessionGains.of(scars).get(0);
		assertThat(gain.session()).isEqualTo(1);
		assertThat(gain.patients()).isEqualTo(6);
		assertThat(gain.scars()).isEqualTo(12);
		var change = gain.change();
		double half = 2.570582 * Math.sqrt(0.035 / 6);
		assertThat(change.method()).isEqualTo(ExpectedGain.Method.MIXED_MODEL);
		assertThat(change.percent()).isCloseTo(100 * (1 - Math.exp(-0.35)), within(1e-6));
		assertThat(change.low()).isCloseTo(100 * (1 - Math.exp(-(0.35 - half))), within(1e-3));
		assertThat(change.high()).isCloseTo(100 * (1 - Math.exp(-(0.35 + half))), within(1e-3));
	}

	/**
	 * One scar a patient leaves nothing to tell patients from scars by: the mean and its
	 * usual error, 4 degrees of freedom, quantile 2.776445.
	 */
	@Test
	void oneScarAPatientGivesThePlainMean() {
		List<ComparedScar> scars = new ArrayList<>();
		for (int patient = 1; patient <= 5; patient++) {
			scars.addAll(course(new UUID(0, patient), 0.1 * patient));
		}
		var change = SessionGains.of(scars).get(0).change();
		assertThat(change.method()).isEqualTo(ExpectedGain.Method.CLUSTERED_MEAN);
		assertThat(change.low()).isCloseTo(100 * (1 - Math.exp(-(0.3 - 2.776445 * Math.sqrt(0.025 / 5)))),
				within(1e-3));
	}

	/** The gain of a session is against the stage before it, not against the baseline. */
	@Test
	void aFurtherSessionIsComparedWithTheStageBefore() {
		List<ComparedScar> scars = new ArrayList<>();
		for (int patient = 1; patient <= 6; patient++) {
			double own = 0.02 * patient;
			scars.addAll(course(new UUID(0, patient), 0.40 + own, 0.05 + own));
			scars.addAll(course(new UUID(0, patient), 0.41 + own, 0.04 + own));
		}
		var gains = SessionGains.of(scars);
		assertThat(gains).extracting(ExpectedGain::session).containsExactly(1, 2);
		assertThat(gains.get(1).change().percent()).isCloseTo(100 * (1 - Math.exp(-(0.045 + 0.07))), within(1e-6));
	}

	@Test
	void fewerThanFivePatientsHaveCountsOnly() {
		List<ComparedScar> scars = new ArrayList<>();
		for (int patient = 1; patient <= 4; patient++) {
			scars.addAll(course(new UUID(0, patient), 0.1 * patient));
			scars.addAll(course(new UUID(0, patient), 0.2 * patient));
		}
		var gain = SessionGains.of(scars).get(0);
		assertThat(gain.scars()).isEqualTo(8);
		assertThat(gain.change()).isNull();
	}

	@Test
	void aScarThatIsGoneIsCountedBesideTheFiguresAndHasNoLaterStep() {
		var gains = SessionGains.of(course(new UUID(0, 1), 0.3, Double.POSITIVE_INFINITY, 0.1));
		assertThat(gains).extracting(ExpectedGain::scars).containsExactly(1, 0);
		assertThat(gains).extracting(ExpectedGain::resolved).containsExactly(0, 1);
	}

	@Test
	void aStageThatNobodyMeasuredLeavesNoStepOverIt() {
		var scars = new ArrayList<>(course(new UUID(0, 1), 0.3, 0.2, 0.1));
		scars.remove(1);
		assertThat(SessionGains.of(scars)).extracting(ExpectedGain::session).containsExactly(1);
	}

	/** One scar, session by session, with the fall of its depth over each. */
	private static List<ComparedScar> course(UUID patient, double... gains) {
		List<ComparedScar> course = new ArrayList<>();
		var scar = UUID.randomUUID();
		double ratio = 0;
		for (int i = 0; i < gains.length; i++) {
			ratio -= gains[i];
			course.add(new ComparedScar(patient, patient, scar, ScarType.BOXCAR, i + 1,
					new ScarChange.InDepth(-100 * Math.expm1(ratio), ratio), null));
		}
		return course;
	}

}
