package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.List;

/**
 * A control chart: points in the order of time, a centre line and three-sigma limits.
 * <p>
 * Charts need no distribution tables, so a clinic can redo them by hand:
 * <ul>
 * <li><em>XmR</em>, single measurements: mean \( \pm\, 3\,\overline{mR}/d_2 \) with
 * \(\overline{mR}\) the mean of the moving ranges \( |x_i - x_{i-1}| \) and \( d_2 =
 * 2/\sqrt\pi \) (the 2.66 of the tables); the moving ranges have the upper limit \( (1 +
 * 3 d_3/d_2)\,\overline{mR} \), \( d_3 = \sqrt{2 - 4/\pi} \) (3.267).</li>
 * <li><em>p</em>, proportions: \( \bar p \pm 3\sqrt{\bar p(1-\bar p)/n_i} \), within 0
 * and 1.</li>
 * <li><em>g</em>, number of cases between events: \( \bar g \pm 3\sqrt{\bar g(\bar g +
 * 1)} \), at least 0.</li>
 * </ul>
 * Fewer than two points: {@link Estimate.NotEstimable}. Points count as independent.
 * <p>
 * Sources: Shewhart 1931; Wheeler, Chambers 1992, Understanding Statistical Process
 * Control (XmR); Benneyan 2001, Health Care Management Science 4, 305-318 (g).
 *
 * @param points in the order given
 * @param centre the centre line
 */
public record ControlChart(List<Point> points, double centre) {

	private static final double D2 = 2 / Math.sqrt(Math.PI);

	private static final double D3 = Math.sqrt(2 - 4 / Math.PI);

	/**
	 * A point with its limits.
	 */
	public record Point(double value, double low, double high) {

		/**
		 * Whether the point lies beyond its limits.
		 */
		public boolean isSignal() {
			return this.value < this.low || this.value > this.high;
		}

	}

	/**
	 * The two charts of single measurements.
	 *
	 * @param values the measurements
	 * @param movingRanges their successive differences; one point less
	 */
	public record Individuals(ControlChart values, ControlChart movingRanges) {
	}

	/**
	 * Positions of the points beyond their limits, from 1.
	 */
	public List<Integer> signals() {
		List<Integer> signals = new ArrayList<>();
		for (int i = 0; i < this.points.size(); i++) {
			if (this.points.get(i).isSignal()) {
				signals.add(i + 1);
			}
		}
		return signals;
	}

	/**
	 * XmR chart.
	 * @param values finite, in the order of time
	 */
	public static Estimate<Individuals> individuals(double[] values) {
		Measured.require("values", values);
		int n = values.length;
		if (n < 2) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_OBSERVATIONS, n);
		}
		double mean = 0;
		double range = 0;
		for (int i = 0; i < n; i++) {
			mean += values[i] / n;
			range += (i == 0) ? 0 : Math.abs(values[i] - values[i - 1]) / (n - 1);
		}
		double reach = 3 / D2 * range;
		double most = (1 + 3 * D3 / D2) * range;
		List<Point> points = new ArrayList<>();
		List<Point> ranges = new ArrayList<>();
		for (int i = 0; i < n; i++) {
			points.add(new Point(values[i], mean - reach, mean + reach));
			if (i > 0) {
				ranges.add(new Point(Math.abs(values[i] - values[i - 1]), 0, most));
			}
		}
		return Estimate.of(new Individuals(new ControlChart(List.copyOf(points), mean),
				new ControlChart(List.copyOf(ranges), range)));
	}

	/**
	 * p chart.
	 * @param periods counts of each period, in the order of time
	 */
	public static Estimate<ControlChart> proportions(List<EventCount> periods) {
		if (periods.size() < 2) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_OBSERVATIONS, periods.size());
		}
		double events = periods.stream().mapToLong(EventCount::events).sum();
		double p = events / periods.stream().mapToLong(EventCount::n).sum();
		List<Point> points = new ArrayList<>();
		for (EventCount period : periods) {
			double reach = 3 * Math.sqrt(p * (1 - p) / period.n());
			points
				.add(new Point((double) period.events() / period.n(), Math.max(0, p - reach), Math.min(1, p + reach)));
		}
		return Estimate.of(new ControlChart(List.copyOf(points), p));
	}

	/**
	 * g chart.
	 * @param casesBetween number of cases without the event before each event, at least
	 * 0, in the order of time
	 */
	public static Estimate<ControlChart> casesBetween(int[] casesBetween) {
		for (int cases : casesBetween) {
			if (cases < 0) {
				throw new IllegalArgumentException("casesBetween must be at least 0, but one is " + cases);
			}
		}
		int n = casesBetween.length;
		if (n < 2) {
			return Estimate.notEstimable(Estimate.Reason.TOO_FEW_OBSERVATIONS, n);
		}
		double mean = 0;
		for (int cases : casesBetween) {
			mean += (double) cases / n;
		}
		double reach = 3 * Math.sqrt(mean * (mean + 1));
		List<Point> points = new ArrayList<>();
		for (int cases : casesBetween) {
			points.add(new Point(cases, Math.max(0, mean - reach), mean + reach));
		}
		return Estimate.of(new ControlChart(List.copyOf(points), mean));
	}

}
