package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/**
 * Invented lumps, seen at contacts: durations log-normal with a median of 6.7 days (mean
 * of the logarithm 1.9, standard deviation 0.9); contacts 1 to 7 days apart, until an end
 * of follow-up between day 14 and day 60. A lump ended between the last contact before its
 * end and the first one after it; beyond the end of follow-up it was never seen gone. Four
 * lumps make a patient. Two covariates: one of two layers, and a normal one.
 */
final class BenchmarkLumps {

	static final int LUMPS_OF_A_PATIENT = 4;

	private final List<DurationInterval> durations = new ArrayList<>();

	private final List<double[]> covariates = new ArrayList<>();

	/**
	 * @param decimals 0 for contacts in whole days, 2 for hundredths of a day
	 */
	BenchmarkLumps(int lumps, int decimals, long seed) {
		SplittableRandom random = new SplittableRandom(seed);
		double unit = Math.pow(10, decimals);
		for (int i = 0; i < lumps; i++) {
			double[] x = { random.nextInt(2), normal(random) };
			double end = Math.exp(1.9 + 0.9 * normal(random));
			double followUp = 14 + 46 * random.nextDouble();
			double before = 0;
			double after = Double.POSITIVE_INFINITY;
			double contact = 0;
			while (Double.isInfinite(after)) {
				contact += (decimals == 0) ? 1 + random.nextInt(7) : 0.5 + 6.5 * random.nextDouble();
				contact = Math.round(contact * unit) / unit;
				if (contact > followUp) {
					break;
				}
				if (contact >= end) {
					after = contact;
				}
				else {
					before = contact;
				}
			}
			this.durations.add(new DurationInterval(before, after));
			this.covariates.add(x);
		}
	}

	private static double normal(SplittableRandom random) {
		return Math.sqrt(-2 * Math.log(1 - random.nextDouble())) * Math.cos(2 * Math.PI * random.nextDouble());
	}

	List<DurationInterval> durations() {
		return this.durations;
	}

	Covariates covariates() {
		return new Covariates(List.of("layer", "volume"), this.covariates);
	}

	List<PatientDurations> patients() {
		List<PatientDurations> patients = new ArrayList<>();
		for (int i = 0; i < this.durations.size(); i += LUMPS_OF_A_PATIENT) {
			int to = Math.min(i + LUMPS_OF_A_PATIENT, this.durations.size());
			patients.add(new PatientDurations("patient-%07d".formatted(i), this.durations.subList(i, to)));
		}
		return patients;
	}

}
