package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Limits of a funnel plot: how far the proportion of a unit of a given size strays from a
 * target by chance alone.
 * <p>
 * Exact: with r the smallest integer for which \( F(r) = P(R \le r) > p \), R binomial,
 * the limit at level p is \( (r - (F(r)-p)/(F(r)-F(r-1)))/n \), interpolated so that it
 * falls smoothly with n, within 0 and 1.
 * <p>
 * Over-dispersed: \( z_i = (x_i/n_i - \theta)/\sqrt{\theta(1-\theta)/n_i} \), winsorised
 * at their type 7 quantiles at q and 1-q; \( \phi \) is the mean of their squares, and
 * limits are \( \theta + z_p \sqrt{\max(1, \phi)\,\theta(1-\theta)/n} \).
 * <ul>
 * <li>With fewer than about ten units \(\phi\) is unstable: show exact limits.</li>
 * </ul>
 * <p>
 * Source: Spiegelhalter 2005, Statistics in Medicine 24, 1185-1202; Quality and Safety in
 * Health Care 14, 347-351.
 *
 * @param low998 lower limit that 1 in 1000 passes by chance
 * @param low95 lower limit that 1 in 40 passes by chance
 * @param high95 upper limit that 1 in 40 passes by chance
 * @param high998 upper limit that 1 in 1000 passes by chance
 */
public record FunnelLimits(double low998, double low95, double high95, double high998) {

	private static final double[] LEVELS = { 0.001, 0.025, 0.975, 0.999 };

	/**
	 * Exact limits.
	 * @param target strictly between 0 and 1
	 * @param n size of the unit, at least 1
	 */
	public static FunnelLimits exact(double target, int n) {
		requireTarget(target);
		requireSize(n);
		double[] limits = Arrays.stream(LEVELS).map((level) -> exact(target, n, level)).toArray();
		return new FunnelLimits(limits[0], limits[1], limits[2], limits[3]);
	}

	private static double exact(double target, int n, double level) {
		int low = 0;
		int high = n;
		while (low < high) {
			int middle = (low + high) >>> 1;
			if (Tails.binomialAtMost(middle, n, target) > level) {
				high = middle;
			}
			else {
				low = middle + 1;
			}
		}
		double at = Tails.binomialAtMost(low, n, target);
		double below = (low == 0) ? 0 : Tails.binomialAtMost(low - 1, n, target);
		return Math.min(1, Math.max(0, (low - (at - level) / (at - below)) / n));
	}

	/**
	 * How much more units differ than chance alone explains.
	 *
	 * @param z standardised deviation of each unit
	 * @param winsorised the same, clipped
	 * @param phi mean square of the clipped ones
	 * @param units number of units
	 */
	public record Dispersion(List<Double> z, List<Double> winsorised, double phi, int units) {

		/**
		 * What limits are widened by: they are never narrowed.
		 */
		public double used() {
			return Math.max(1, this.phi);
		}

		/**
		 * Limits for a unit of a size.
		 */
		public FunnelLimits limits(double target, int n) {
			requireTarget(target);
			requireSize(n);
			double spread = Math.sqrt(used() * target * (1 - target) / n);
			double[] limits = Arrays.stream(LEVELS)
				.map((level) -> Math.min(1, Math.max(0, target + Tails.normalQuantile(level) * spread)))
				.toArray();
			return new FunnelLimits(limits[0], limits[1], limits[2], limits[3]);
		}

	}

	/**
	 * @param units counts of each unit
	 * @param target strictly between 0 and 1
	 * @param winsorise share clipped at each end, at least 0 and below 0.5; 0.1 is usual
	 */
	public static Estimate<Dispersion> dispersion(List<EventCount> units, double target, double winsorise) {
		requireTarget(target);
		if (!(winsorise >= 0 && winsorise < 0.5)) {
			throw new IllegalArgumentException("winsorise must be at least 0 and below 0.5, but is " + winsorise);
		}
		if (units.isEmpty()) {
			return Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0);
		}
		double[] z = units.stream()
			.mapToDouble((unit) -> ((double) unit.events() / unit.n() - target)
					/ Math.sqrt(target * (1 - target) / unit.n()))
			.toArray();
		double low = SampleQuantile.of(z, winsorise).orElseThrow();
		double high = SampleQuantile.of(z, 1 - winsorise).orElseThrow();
		List<Double> raw = new ArrayList<>();
		List<Double> clipped = new ArrayList<>();
		double squares = 0;
		for (double value : z) {
			double within = Math.min(high, Math.max(low, value));
			raw.add(value);
			clipped.add(within);
			squares += within * within;
		}
		return Estimate.of(new Dispersion(List.copyOf(raw), List.copyOf(clipped), squares / z.length, z.length));
	}

	private static void requireTarget(double target) {
		if (!(target > 0 && target < 1)) {
			throw new IllegalArgumentException("target must be strictly between 0 and 1, but is " + target);
		}
	}

	private static void requireSize(int n) {
		if (n < 1) {
			throw new IllegalArgumentException("n must be at least 1, but is " + n);
		}
	}

}
