package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Adjustment of the p values of one family of tests. Adjusted values come back in the
 * order given; an empty family stays empty. Always say over which family it was made.
 * <p>
 * Sources: Holm 1979, Scandinavian Journal of Statistics 6, 65-70; Benjamini, Hochberg
 * 1995, JRSS B 57, 289-300.
 */
public enum MultipleTesting {

	/**
	 * For a short list of stated questions: the chance of any false finding. With sorted
	 * values \( \max_{k \le i} \min(1, (m-k+1) p_{(k)}) \).
	 */
	HOLM {
		@Override
		void adjustSorted(double[] p) {
			double largest = 0;
			for (int k = 0; k < p.length; k++) {
				largest = Math.max(largest, Math.min(1, (p.length - k) * p[k]));
				p[k] = largest;
			}
		}
	},

	/**
	 * For screens over many units: the expected share of false findings. With sorted
	 * values \( \min_{k \ge i} \min(1, m p_{(k)} / k) \).
	 */
	BENJAMINI_HOCHBERG {
		@Override
		void adjustSorted(double[] p) {
			double smallest = 1;
			for (int k = p.length - 1; k >= 0; k--) {
				smallest = Math.min(smallest, p.length * p[k] / (k + 1));
				p[k] = smallest;
			}
		}
	},

	/**
	 * The plain bound \( \min(1, m p) \), kept for comparison with older reports.
	 */
	BONFERRONI {
		@Override
		void adjustSorted(double[] p) {
			for (int k = 0; k < p.length; k++) {
				p[k] = Math.min(1, p.length * p[k]);
			}
		}
	};

	abstract void adjustSorted(double[] p);

	/**
	 * @param pValues each between 0 and 1
	 */
	public List<Double> adjust(List<Double> pValues) {
		for (double p : pValues) {
			if (!(p >= 0 && p <= 1)) {
				throw new IllegalArgumentException("p values must be between 0 and 1, but one is " + p);
			}
		}
		int[] order = IntStream.range(0, pValues.size())
			.boxed()
			.sorted(Comparator.comparingDouble(pValues::get))
			.mapToInt(Integer::intValue)
			.toArray();
		double[] sorted = IntStream.of(order).mapToDouble(pValues::get).toArray();
		adjustSorted(sorted);
		List<Double> adjusted = new ArrayList<>(pValues);
		for (int i = 0; i < order.length; i++) {
			adjusted.set(order[i], sorted[i]);
		}
		return List.copyOf(adjusted);
	}

}
