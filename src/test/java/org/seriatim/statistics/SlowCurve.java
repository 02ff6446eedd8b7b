package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.TreeSet;

/**
 * The obvious way to the same maximum: innermost intervals by comparing all pairs of
 * ends, the whole matrix of what lies inside what, and plain EM. Slow, and nothing in it
 * is shared with the kernel.
 */
final class SlowCurve {

	private record End(double value, int kind) implements Comparable<End> {

		@Override
		public int compareTo(End other) {
			return (this.value != other.value) ? Double.compare(this.value, other.value)
					: Integer.compare(this.kind, other.kind);
		}

	}

	final List<Mass> masses = new ArrayList<>();

	final double logLikelihood;

	/** Largest gradient minus n: the likelihood cannot grow by more. */
	final double gap;

	SlowCurve(List<DurationInterval> observations, int steps) {
		TreeSet<End> lefts = new TreeSet<>();
		TreeSet<End> rights = new TreeSet<>();
		for (DurationInterval observation : observations) {
			lefts.add(left(observation));
			rights.add(new End(observation.right(), 1));
		}
		List<End[]> cells = new ArrayList<>();
		for (End left : lefts) {
			for (End right : rights) {
				boolean anyBetween = lefts.stream().anyMatch((end) -> isBetween(end, left, right))
						|| rights.stream().anyMatch((end) -> isBetween(end, left, right));
				if (left.compareTo(right) < 0 && !anyBetween) {
					cells.add(new End[] { left, right });
				}
			}
		}
		int m = cells.size();
		boolean[][] inside = new boolean[observations.size()][m];
		double n = 0;
		for (int i = 0; i < inside.length; i++) {
			DurationInterval observation = observations.get(i);
			n += observation.count();
			for (int j = 0; j < m; j++) {
				inside[i][j] = left(observation).compareTo(cells.get(j)[0]) <= 0
						&& cells.get(j)[1].compareTo(new End(observation.right(), 1)) <= 0;
			}
		}
		double[] p = new double[m];
		Arrays.fill(p, 1.0 / m);
		double[] gradient = new double[m];
		double likelihood = 0;
		double largest = Double.POSITIVE_INFINITY;
		for (int step = 0; step < steps && largest - n > 1e-10 * n; step++) {
			if (step > 0) {
				for (int j = 0; j < m; j++) {
					p[j] *= gradient[j] / n;
				}
			}
			Arrays.fill(gradient, 0);
			likelihood = 0;
			for (int i = 0; i < inside.length; i++) {
				double chance = 0;
				for (int j = 0; j < m; j++) {
					chance += inside[i][j] ? p[j] : 0;
				}
				likelihood += observations.get(i).count() * Math.log(chance);
				for (int j = 0; j < m; j++) {
					gradient[j] += inside[i][j] ? observations.get(i).count() / chance : 0;
				}
			}
			largest = Arrays.stream(gradient).max().orElseThrow();
		}
		for (int j = 0; j < m; j++) {
			this.masses.add(new Mass(cells.get(j)[0].value(), cells.get(j)[1].value(), Math.min(1, p[j])));
		}
		this.logLikelihood = likelihood;
		this.gap = largest - n;
	}

	private static End left(DurationInterval observation) {
		return new End(observation.left(), observation.isExact() ? 0 : 2);
	}

	private static boolean isBetween(End end, End left, End right) {
		return left.compareTo(end) < 0 && end.compareTo(right) < 0;
	}

}
