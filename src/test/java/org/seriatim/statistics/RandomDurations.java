package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Random interval-censored data sets of many shapes: ties, exact ends, heavy left and
 * right censoring, wide and narrow intervals, abutting ones, and degenerate ones.
 */
final class RandomDurations {

	private RandomDurations() {
	}

	static List<DurationInterval> dataSet(long seed) {
		Random random = new Random(seed);
		int n = 1 + random.nextInt(30);
		double exact = (seed % 3 == 0) ? random.nextDouble() : 0;
		double left = random.nextDouble() * ((seed % 5 == 0) ? 0.9 : 0.3);
		double right = random.nextDouble() * ((seed % 7 == 0) ? 0.9 : 0.4);
		int span = 2 + random.nextInt(40);
		boolean whole = seed % 4 != 0;
		List<DurationInterval> data = new ArrayList<>();
		for (int i = 0; i < n; i++) {
			double from = time(random, span, whole);
			double to = from + ((whole) ? 1 + random.nextInt(span) : 0.1 + span * random.nextDouble());
			double kind = random.nextDouble();
			int count = (random.nextInt(4) == 0) ? 1 + random.nextInt(9) : 1;
			if (random.nextDouble() < exact) {
				data.add(new DurationInterval(from, from, count));
			}
			else if (kind < left) {
				data.add(new DurationInterval(0, to, count));
			}
			else if (kind < left + right) {
				data.add(new DurationInterval(from, Double.POSITIVE_INFINITY, count));
			}
			else {
				data.add(new DurationInterval(from, to, count));
			}
		}
		return data;
	}

	private static double time(Random random, int span, boolean whole) {
		return whole ? random.nextInt(span) : span * random.nextDouble();
	}

}
