package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

class CurveBootstrapTests {

	private static final List<Double> DAYS = List.of(3.0, 7.0, 14.0, 28.0);

	private final BootstrapPlan plan = new BootstrapPlan(7, 400, 0.95);

	@Test
	void givesTheSameLimitsWhateverTheOrderOfPatients() {
		List<PatientDurations> patients = patients(40, 3, 1);
		List<PatientDurations> shuffled = new ArrayList<>(patients);
		Collections.shuffle(shuffled, new Random(5));
		assertThat(CurveBootstrap.limits(shuffled, DAYS, this.plan))
			.isEqualTo(CurveBootstrap.limits(patients, DAYS, this.plan));
	}

	@Test
	void agreesWithTheGeneralBootstrapOfFullEstimates() {
		List<PatientDurations> patients = patients(25, 3, 2);
		CurveLimits fast = CurveBootstrap.limits(patients, DAYS, this.plan).known().orElseThrow();
		// identifiers are generated in their sorted order
		for (int k = 0; k < DAYS.size(); k++) {
			double day = DAYS.get(k);
			assertThat(fast.present().get(k).low())
				.isCloseTo(general(patients, (curve) -> curve.survivalBounds(day).low()).low(), within(1e-6));
			assertThat(fast.present().get(k).high())
				.isCloseTo(general(patients, (curve) -> curve.survivalBounds(day).high()).high(), within(1e-6));
		}
		assertThat(fast.medianLow()).isEqualTo(general(patients, (curve) -> curve.median().low()).low());
		assertThat(fast.medianHigh()).isEqualTo(general(patients, (curve) -> curve.median().high()).high());
	}

	private PercentileLimits general(List<PatientDurations> patients,
			java.util.function.ToDoubleFunction<IntervalCensoredCurve> statistic) {
		return PatientBootstrap.limits(patients.size(), (timesDrawn) -> {
			List<DurationInterval> pool = new ArrayList<>();
			for (int g = 0; g < timesDrawn.length; g++) {
				for (int time = 0; time < timesDrawn[g]; time++) {
					pool.addAll(patients.get(g).durations());
				}
			}
			return OptionalDouble.of(statistic.applyAsDouble(IntervalCensoredCurve.of(pool).known().orElseThrow()));
		}, this.plan).known().orElseThrow();
	}

	@Test
	void limitsAreNarrowerWithMorePatients() {
		assertThat(width(patients(400, 3, 3))).isLessThan(width(patients(25, 3, 3)));
	}

	@Test
	void keepsLumpsOfOnePatientTogether() {
		// the same lumps, once as many patients and once as a few with equal lumps each
		List<PatientDurations> few = new ArrayList<>();
		List<PatientDurations> many = new ArrayList<>();
		Random random = new Random(11);
		for (int g = 0; g < 12; g++) {
			double end = 1 + random.nextInt(30);
			few.add(new PatientDurations("p" + g, Collections.nCopies(10, new DurationInterval(end - 1, end))));
			for (int i = 0; i < 10; i++) {
				many.add(new PatientDurations("p" + g + "-" + i, List.of(new DurationInterval(end - 1, end))));
			}
		}
		assertThat(width(few)).isGreaterThan(1.5 * width(many));
	}

	@Test
	void aMedianThatIsOftenNotReachedHasNoUpperLimit() {
		List<PatientDurations> patients = new ArrayList<>();
		for (int g = 0; g < 10; g++) {
			patients.add(new PatientDurations("p" + g,
					List.of((g < 5) ? new DurationInterval(g, g + 1) : DurationInterval.longerThan(20))));
		}
		CurveLimits limits = CurveBootstrap.limits(patients, DAYS, this.plan).known().orElseThrow();
		assertThat(limits.medianHigh()).isInfinite();
		assertThat(limits.medianLow()).isFinite();
	}

	@Test
	void needsTwoPatientsAndEnoughReplicates() {
		List<PatientDurations> patients = patients(5, 2, 4);
		assertThat(CurveBootstrap.limits(patients.subList(0, 1), DAYS, this.plan))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.TOO_FEW_CLUSTERS, 1));
		assertThat(CurveBootstrap.limits(List.of(), DAYS, this.plan))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.TOO_FEW_CLUSTERS, 0));
		assertThat(CurveBootstrap.limits(patients, DAYS, new BootstrapPlan(1, 38, 0.95)))
			.isEqualTo(Estimate.notEstimable(Estimate.Reason.TOO_FEW_REPLICATES, 38));
		assertThat(CurveBootstrap.limits(patients, DAYS, new BootstrapPlan(1, 39, 0.95)).known()).isPresent();
	}

	@Test
	void refusesBrokenInput() {
		List<PatientDurations> patients = patients(5, 2, 4);
		List<PatientDurations> twice = List.of(patients.get(0), patients.get(0));
		assertThatIllegalArgumentException().isThrownBy(() -> CurveBootstrap.limits(twice, DAYS, this.plan));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> CurveBootstrap.limits(patients, List.of(-1.0), this.plan));
		assertThatIllegalArgumentException().isThrownBy(() -> new PatientDurations("p", List.of()));
		assertThatIllegalArgumentException().isThrownBy(() -> new BootstrapPlan(1, 0, 0.95));
		assertThatIllegalArgumentException().isThrownBy(() -> new BootstrapPlan(1, 10, Double.NaN));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> PatientBootstrap.limits(-1, (drawn) -> OptionalDouble.of(1), this.plan));
	}

	@Test
	void dropsReplicatesWithoutAValueAndCountsThem() {
		// all draws of one patient only: 3 of 27 for three patients, far above 5 percent
		assertThat(PatientBootstrap.limits(3,
				(drawn) -> (drawn[0] == 3 || drawn[1] == 3 || drawn[2] == 3) ? OptionalDouble.empty()
						: OptionalDouble.of(drawn[0]),
				new BootstrapPlan(1, 1999, 0.95)))
			.isInstanceOf(Estimate.NotEstimable.class);
		// 4 of 256 for four patients: about 1.6 percent
		PercentileLimits limits = PatientBootstrap.limits(4, (drawn) -> {
			for (int times : drawn) {
				if (times == 4) {
					return OptionalDouble.empty();
				}
			}
			return OptionalDouble.of(drawn[0]);
		}, new BootstrapPlan(1, 1999, 0.95)).known().orElseThrow();
		assertThat(limits.dropped()).isBetween(10, 60);
		assertThat(limits.replicates()).isEqualTo(1999 - limits.dropped());
	}

	private double width(List<PatientDurations> patients) {
		CurveLimits.PresentOn week = CurveBootstrap.limits(patients, DAYS, this.plan)
			.known()
			.orElseThrow()
			.present()
			.get(1);
		return week.high() - week.low();
	}

	private static List<PatientDurations> patients(int number, int lumps, long seed) {
		Random random = new Random(seed);
		List<PatientDurations> patients = new ArrayList<>();
		for (int g = 0; g < number; g++) {
			List<DurationInterval> durations = new ArrayList<>();
			for (int i = 0; i < lumps; i++) {
				int from = random.nextInt(20);
				durations.add((random.nextInt(6) == 0) ? DurationInterval.longerThan(from)
						: new DurationInterval(from, from + 1 + random.nextInt(7)));
			}
			patients.add(new PatientDurations("patient-%04d".formatted(g), durations));
		}
		return patients;
	}

}
