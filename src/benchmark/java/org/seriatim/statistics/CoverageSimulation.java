package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.IntStream;

/**
 * How often 95 percent limits contain the truth when it is known: 2,000 invented clinics
 * for each method and number of patients. Prints a table.
 * <p>
 * A clinic for which a method gives no limits counts as missing, not as covered.
 */
final class CoverageSimulation {

	private static final int RUNS = 2000;

	private static final int[] PATIENTS = { 10, 20, 50 };

	private CoverageSimulation() {
	}

	/**
	 * One simulated clinic: limits, and the truth that they should contain.
	 */
	private interface Clinic {

		Optional<Boolean> covers(SplittableRandom random, int patients);

	}

	public static void main(String[] arguments) {
		System.out.println("| Limits | Patients | Covered | Without limits |");
		System.out.println("| --- | --- | --- | --- |");
		run("Mean over scars, CR2 and t", CoverageSimulation::mean);
		run("Proportion of sessions, Wilson at the effective size", CoverageSimulation::proportion);
		run("Proportion of sessions, plain Wilson (for comparison)", CoverageSimulation::plainProportion);
		run("Kaplan-Meier at the median, log-log", CoverageSimulation::kaplanMeier);
		run("Weibull time ratio, layer varies within patients, clustered",
				(random, patients) -> weibull(random, patients, true, true));
		run("Weibull time ratio, group of patients, clustered",
				(random, patients) -> weibull(random, patients, false, true));
		run("Weibull time ratio, group of patients, model-based (for comparison)",
				(random, patients) -> weibull(random, patients, false, false));
	}

	private static void run(String name, Clinic clinic) {
		for (int patients : PATIENTS) {
			List<Optional<Boolean>> results = IntStream.range(0, RUNS)
				.parallel()
				.mapToObj((run) -> clinic.covers(new SplittableRandom(1_000_003L * patients + run), patients))
				.toList();
			long told = results.stream().filter(Optional::isPresent).count();
			long covered = results.stream().filter((result) -> result.orElse(false)).count();
			System.out.printf(Locale.ROOT, "| %s | %d | %.1f %% | %d |%n", name, patients, 100.0 * covered / told,
					RUNS - told);
		}
	}

	/**
	 * One to eight scars a patient, a third of the variance between patients.
	 */
	private static Optional<Boolean> mean(SplittableRandom random, int patients) {
		List<Clustered<Double>> values = new ArrayList<>();
		for (int g = 0; g < patients; g++) {
			double level = normal(random);
			int scars = 1 + random.nextInt(8);
			for (int i = 0; i < scars; i++) {
				values.add(new Clustered<>("p" + g, 30 + 10 * level + 14 * normal(random)));
			}
		}
		return ClusterRobustRegression.mean(values)
			.known()
			.flatMap((fit) -> fit.coefficients().get(0).limits(0.95))
			.map((limits) -> contains(limits, 30));
	}

	private static final double RATE = 0.2;

	/**
	 * One to six sessions a patient; a patient's own probability is a beta variable with
	 * mean 0.2 and an intraclass correlation of 0.1.
	 */
	private static List<EventCount> sessions(SplittableRandom random, int patients) {
		List<EventCount> counts = new ArrayList<>();
		for (int g = 0; g < patients; g++) {
			int sessions = 1 + random.nextInt(6);
			double own = Tails.betaQuantile(random.nextDouble(), 9 * RATE, 9 * (1 - RATE));
			int events = 0;
			for (int i = 0; i < sessions; i++) {
				events += (random.nextDouble() < own) ? 1 : 0;
			}
			counts.add(new EventCount(events, sessions));
		}
		return counts;
	}

	private static Optional<Boolean> proportion(SplittableRandom random, int patients) {
		return ClusteredProportion.of(sessions(random, patients), 0.95)
			.limits()
			.map((limits) -> contains(limits, RATE));
	}

	private static Optional<Boolean> plainProportion(SplittableRandom random, int patients) {
		List<EventCount> counts = sessions(random, patients);
		int events = counts.stream().mapToInt(EventCount::events).sum();
		int n = counts.stream().mapToInt(EventCount::n).sum();
		return ProportionInterval.of(events, n, 0.95).wilson().map((limits) -> contains(limits, RATE));
	}

	/**
	 * One exponential time a patient with median 10, about 30 percent censored.
	 */
	private static Optional<Boolean> kaplanMeier(SplittableRandom random, int patients) {
		List<EventTime> times = new ArrayList<>();
		for (int g = 0; g < patients; g++) {
			double event = -10 / Math.log(2) * Math.log(1 - random.nextDouble());
			double censored = -23 / Math.log(2) * Math.log(1 - random.nextDouble());
			times.add(new EventTime(Math.min(event, censored), event <= censored));
		}
		return KaplanMeier.of(times, 0.95)
			.known()
			.flatMap((curve) -> curve.at(10))
			.flatMap(KaplanMeier.Row::limits)
			.map((limits) -> contains(limits, 0.5));
	}

	private static final double LOG_RATIO = 0.4;

	/**
	 * Two to five lumps a patient, seen at contacts 1 to 7 days apart until day 60. The
	 * frailty of a patient is positive stable (Hougaard 1986), so that durations are
	 * Weibull also over all patients, with the same time ratio.
	 */
	private static Optional<Boolean> weibull(SplittableRandom random, int patients, boolean within,
			boolean clustered) {
		List<DurationInterval> durations = new ArrayList<>();
		List<double[]> x = new ArrayList<>();
		List<String> patientOf = new ArrayList<>();
		double alpha = 0.8;
		for (int g = 0; g < patients; g++) {
			double frailty = positiveStable(random, alpha);
			int lumps = 2 + random.nextInt(4);
			for (int i = 0; i < lumps; i++) {
				double group = within ? random.nextInt(2) : g % 2;
				double hazard = -Math.log(1 - random.nextDouble()) / frailty;
				double end = Math.exp(2.2 + LOG_RATIO * group + 0.6 * Math.log(hazard));
				durations.add(seen(random, end));
				x.add(new double[] { group });
				patientOf.add("p" + g);
			}
		}
		Covariates covariates = new Covariates(List.of("group"), x);
		return WeibullRegression.clustered(durations, covariates, patientOf)
			.known()
			.flatMap((fit) -> clustered ? fit.clusteredTimeRatios(0.95) : Optional.of(fit.timeRatios(0.95)))
			.map((ratios) -> ratios.get(0))
			.map((ratio) -> ratio.low() <= Math.exp(LOG_RATIO) && Math.exp(LOG_RATIO) <= ratio.high());
	}

	private static DurationInterval seen(SplittableRandom random, double end) {
		double before = 0;
		double contact = 1 + random.nextInt(7);
		while (contact <= 60) {
			if (contact >= end) {
				return new DurationInterval(before, contact);
			}
			before = contact;
			contact += 1 + random.nextInt(7);
		}
		return DurationInterval.longerThan(before);
	}

	/**
	 * Positive stable variable with Laplace transform exp(-s^alpha), by Kanter's formula.
	 */
	private static double positiveStable(SplittableRandom random, double alpha) {
		double angle = Math.PI * random.nextDouble();
		double exponential = -Math.log(1 - random.nextDouble());
		return Math.sin(alpha * angle) / Math.pow(Math.sin(angle), 1 / alpha)
				* Math.pow(Math.sin((1 - alpha) * angle) / exponential, (1 - alpha) / alpha);
	}

	private static boolean contains(Bounds limits, double truth) {
		return limits.low() <= truth && truth <= limits.high();
	}

	private static double normal(SplittableRandom random) {
		return Math.sqrt(-2 * Math.log(1 - random.nextDouble())) * Math.cos(2 * Math.PI * random.nextDouble());
	}

}
