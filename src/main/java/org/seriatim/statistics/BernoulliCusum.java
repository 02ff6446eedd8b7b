package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Cumulative sum chart of single events: signals when the odds of an event have changed
 * by a stated ratio.
 * <p>
 * With in-control probability \(p_t\) and odds ratio R let \( D_t = 1 - p_t + R p_t \);
 * an event weighs \( \ln R - \ln D_t \), none \( -\ln D_t \); \( X_0 = 0 \), \( X_t =
 * \max(0, X_{t-1} + W_t) \). It signals when \( X_t \ge h \).
 * <p>
 * Average run length: between two visits to 0 the sum is determined by the numbers of
 * events and non-events, so the Markov chain runs on these counts without a grid, and ARL
 * = E(length of a cycle)/P(a cycle ends in a signal), exact up to rounding.
 * <ul>
 * <li>R above 1 looks for deterioration, below 1 for improvement; 1 is refused.</li>
 * <li>A run length above about 1e16, or one that would take too long to compute:
 * {@link Estimate.NotConverged}.</li>
 * </ul>
 * <p>
 * Sources: Page 1954, Biometrika 41, 100-115; Steiner, Cook, Farewell, Treasure 2000,
 * Biostatistics 1, 441-452; Brook, Evans 1972, Biometrika 59, 539-549.
 *
 * @param oddsRatio to detect, above 0 and not 1
 * @param threshold h, above 0
 * @param resetAfterSignal whether the sum starts again from 0 after a signal
 */
public record BernoulliCusum(double oddsRatio, double threshold, boolean resetAfterSignal) {

	/**
	 * A cycle ends when this share of its length is left.
	 */
	private static final double REST = 1e-16;

	/**
	 * Bound on the work for one run length, steps times values that the sum may have by
	 * then: a fraction of a second, far beyond any useful chart.
	 */
	private static final long MOST_WORK = 40_000_000;

	/**
	 * Thresholds up to this multiple of the step are looked at.
	 */
	private static final long MOST_MULTIPLE = 1L << 40;

	public BernoulliCusum {
		requireRatio(oddsRatio);
		if (!(threshold > 0) || Double.isInfinite(threshold)) {
			throw new IllegalArgumentException("threshold must be finite and above 0, but is " + threshold);
		}
	}

	/**
	 * What one observation adds to the sum.
	 */
	public record Weight(double event, double noEvent) {

		public static Weight of(double inControl, double oddsRatio) {
			requireRatio(oddsRatio);
			requireProbability("inControl", inControl);
			double change = (oddsRatio - 1) * inControl;
			// near 1 from the change alone, else from the sum: each keeps its digits
			// there
			double log = (Math.abs(change) < 0.5) ? Math.log1p(change)
					: Math.log(1 - inControl + oddsRatio * inControl);
			return new Weight(Math.log(oddsRatio) - log, -log);
		}

	}

	/**
	 * The chart.
	 *
	 * @param statistic the sum after each observation; at a signal as it was, before the
	 * reset
	 * @param signals positions of the signals, from 1
	 */
	public record Path(List<Double> statistic, List<Integer> signals) {
	}

	/**
	 * @param events whether each observation had the event, in the order of time
	 * @param inControl expected probability of each, strictly between 0 and 1
	 */
	public Path path(boolean[] events, double[] inControl) {
		if (events.length != inControl.length) {
			throw new IllegalArgumentException("events and inControl must be of one length, but have " + events.length
					+ " and " + inControl.length);
		}
		List<Double> statistic = new ArrayList<>();
		List<Integer> signals = new ArrayList<>();
		double sum = 0;
		for (int t = 0; t < events.length; t++) {
			Weight weight = Weight.of(inControl[t], this.oddsRatio);
			sum = Math.max(0, sum + (events[t] ? weight.event() : weight.noEvent()));
			statistic.add(sum);
			if (sum >= this.threshold) {
				signals.add(t + 1);
				if (this.resetAfterSignal) {
					sum = 0;
				}
			}
		}
		return new Path(List.copyOf(statistic), List.copyOf(signals));
	}

	/**
	 * Average number of observations until a signal while nothing has changed: the price
	 * in false alarms.
	 */
	public Estimate<Double> inControlRunLength(double inControl) {
		return runLength(inControl, inControl);
	}

	/**
	 * Average number of observations until a signal once the odds have changed by the
	 * ratio: the delay.
	 */
	public Estimate<Double> outOfControlRunLength(double inControl) {
		requireProbability("inControl", inControl);
		return runLength(inControl, this.oddsRatio * inControl / (1 - inControl + this.oddsRatio * inControl));
	}

	/**
	 * Average number of observations until a signal when events have another probability
	 * than the expected one.
	 * @return {@link Estimate.NotConverged} when a cycle does not end within reason
	 */
	public Estimate<Double> runLength(double inControl, double actual) {
		requireProbability("inControl", inControl);
		requireProbability("actual", actual);
		Weight weight = Weight.of(inControl, this.oddsRatio);
		boolean eventsRaise = weight.event() > 0;
		double up = eventsRaise ? weight.event() : weight.noEvent();
		double down = eventsRaise ? -weight.noEvent() : -weight.event();
		double raise = eventsRaise ? actual : 1 - actual;
		// mass[i]: probability of being on the way with base + i steps up, after n steps
		double[] mass = new double[64];
		mass[0] = 1;
		int base = 0;
		int from = 0;
		int to = 0;
		double length = 0;
		double signalled = 0;
		int n = 1;
		for (long work = 0; work <= MOST_WORK; work += to - from + 1) {
			double left = 0;
			for (int i = from; i <= to; i++) {
				left += mass[i];
			}
			if (left <= REST * length) {
				// a signal rarer than what is left out cannot be told
				return (signalled > REST * length) ? Estimate.of(length / signalled)
						: new Estimate.NotConverged<>(left, n);
			}
			length += left;
			if (to + 2 > mass.length) {
				mass = Arrays.copyOfRange(mass, from, from + Math.max(64, 2 * (to - from + 2)));
				base += from;
				to -= from;
				from = 0;
			}
			mass[to + 1] = 0;
			for (int i = to; i >= from; i--) {
				double here = mass[i];
				double k = (double) base + i;
				double high = (k + 1) * up - (n - k - 1) * down;
				if (high >= this.threshold) {
					signalled += here * raise;
				}
				else {
					mass[i + 1] += here * raise;
				}
				double low = k * up - (n - k) * down;
				mass[i] = (low <= 0) ? 0 : here * (1 - raise);
			}
			to++;
			while (to > from && mass[to] == 0) {
				to--;
			}
			while (from < to && mass[from] == 0) {
				from++;
			}
			n++;
		}
		return new Estimate.NotConverged<>(length, n);
	}

	/**
	 * A threshold and the run length that it gives.
	 */
	public record Threshold(double threshold, double inControlRunLength) {
	}

	/**
	 * The smallest multiple of a step whose in-control run length is at least the target,
	 * so that the threshold is chosen by its rate of false alarms.
	 * @param inControl expected probability of an event
	 * @param oddsRatio to detect
	 * @param targetRunLength wanted average number of observations between false alarms,
	 * at least 1
	 * @param step above 0; 0.01 is usual
	 */
	public static Estimate<Threshold> thresholdFor(double inControl, double oddsRatio, double targetRunLength,
			double step) {
		if (!(targetRunLength >= 1) || Double.isInfinite(targetRunLength)) {
			throw new IllegalArgumentException(
					"targetRunLength must be finite and at least 1, but is " + targetRunLength);
		}
		if (!(step > 0) || Double.isInfinite(step)) {
			throw new IllegalArgumentException("step must be finite and above 0, but is " + step);
		}
		long low = 0;
		long high = 1;
		while (!reaches(at(high * step, inControl, oddsRatio), targetRunLength)) {
			if (high >= MOST_MULTIPLE) {
				return new Estimate.NotConverged<>(high * step, 0);
			}
			low = high;
			high *= 2;
		}
		while (high - low > 1) {
			long middle = (low + high) / 2;
			if (reaches(at(middle * step, inControl, oddsRatio), targetRunLength)) {
				high = middle;
			}
			else {
				low = middle;
			}
		}
		double threshold = high * step;
		return at(threshold, inControl, oddsRatio).known()
			.map((length) -> Estimate.of(new Threshold(threshold, length)))
			.orElse(new Estimate.NotConverged<>(threshold, 0));
	}

	/**
	 * A run length that cannot be told is too long to be.
	 */
	private static boolean reaches(Estimate<Double> length, double target) {
		return length.known().map((known) -> known >= target).orElse(true);
	}

	private static Estimate<Double> at(double threshold, double inControl, double oddsRatio) {
		return new BernoulliCusum(oddsRatio, threshold, true).inControlRunLength(inControl);
	}

	private static void requireRatio(double oddsRatio) {
		if (!(oddsRatio > 0) || Double.isInfinite(oddsRatio) || oddsRatio == 1) {
			throw new IllegalArgumentException("oddsRatio must be finite, above 0 and not 1, but is " + oddsRatio);
		}
	}

	private static void requireProbability(String name, double probability) {
		if (!(probability > 0 && probability < 1)) {
			throw new IllegalArgumentException(name + " must be strictly between 0 and 1, but is " + probability);
		}
	}

}
