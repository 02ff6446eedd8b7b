package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.List;

/**
 * Distribution of durations of which only intervals are known: the nonparametric maximum
 * likelihood estimate (Turnbull).
 * <p>
 * The data determine how much probability lies in each <em>innermost interval</em>, a
 * left boundary of some observation immediately followed by a right one; where inside it
 * lies they do not say. So shares and quantiles are intervals, and become single numbers
 * where the data are unique. The masses themselves are unique in one dimension.
 * <ul>
 * <li>No observations: {@link Estimate.NotEstimable}.</li>
 * <li>One observation, or one innermost interval: mass 1, log-likelihood 0.</li>
 * <li>All right censored: mass 1 beyond the largest left end.</li>
 * <li>Observations that say nothing, (0, infinity), count in n and change no mass.</li>
 * </ul>
 * The estimate carries the certificate of its optimality: the relative excess \( \max_j
 * D_j / n - 1 \) of the Kuhn-Tucker conditions, at most
 * {@value NonparametricMaximum#CERTIFICATE}; without it the answer is
 * {@link Estimate.NotConverged}.
 * <p>
 * What it cannot know: an observation enters only if it was seen at all, so short
 * durations are under-counted and durations are biased upward.
 * <p>
 * Sources: Peto 1973, Applied Statistics 22, 86-91; Turnbull 1976, JRSS B 38, 290-295;
 * Gentleman, Geyer 1994, Biometrika 81, 618-623.
 */
public final class IntervalCensoredCurve {

	/**
	 * Masses below this are rounding, not support.
	 */
	static final double NO_MASS = 1e-10;

	private final long n;

	private final List<Mass> innermost;

	private final CurveMasses masses;

	private final double logLikelihood;

	private final double kuhnTuckerExcess;

	private final int rounds;

	private IntervalCensoredCurve(long n, List<Mass> innermost, double logLikelihood, double kuhnTuckerExcess,
			int rounds) {
		this.n = n;
		this.innermost = innermost;
		this.masses = new CurveMasses(Math.toIntExact(n),
				innermost.stream().filter((mass) -> mass.mass() > NO_MASS).toList());
		this.logLikelihood = logLikelihood;
		this.kuhnTuckerExcess = kuhnTuckerExcess;
		this.rounds = rounds;
	}

	/**
	 * Estimates the distribution. The order of the observations does not matter.
	 */
	public static Estimate<IntervalCensoredCurve> of(List<DurationInterval> observations) {
		if (observations.isEmpty()) {
			return Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0);
		}
		return of(IntervalTable.merged(observations));
	}

	static Estimate<IntervalCensoredCurve> of(IntervalTable table) {
		if (table.total() > Integer.MAX_VALUE) {
			throw new IllegalArgumentException("observations must be at most 2147483647, but are " + table.total());
		}
		NonparametricMaximum maximum = new NonparametricMaximum(table);
		if (!maximum.maximise(table.weights())) {
			return new Estimate.NotConverged<>(maximum.excess(), maximum.rounds());
		}
		List<Mass> innermost = new ArrayList<>(maximum.cells());
		for (int j = 0; j < maximum.cells(); j++) {
			innermost.add(new Mass(maximum.left(j), maximum.right(j), Math.min(1, maximum.mass(j))));
		}
		return Estimate.of(new IntervalCensoredCurve(table.total(), List.copyOf(innermost), maximum.logLikelihood(),
				maximum.excess(), maximum.rounds()));
	}

	/**
	 * Number of observations, identical ones counted each.
	 */
	public long n() {
		return this.n;
	}

	/**
	 * The innermost intervals that carry mass, in the order of time.
	 */
	public List<Mass> support() {
		return this.masses.masses();
	}

	/**
	 * All innermost intervals, those without mass included.
	 */
	public List<Mass> innermost() {
		return this.innermost;
	}

	/**
	 * The masses alone, to be kept and asked again later.
	 */
	public CurveMasses masses() {
		return this.masses;
	}

	/**
	 * Natural logarithm of the likelihood at the maximum.
	 */
	public double logLikelihood() {
		return this.logLikelihood;
	}

	/**
	 * \( \max_j D_j / n - 1 \): n times this bounds the distance to the maximum of the
	 * log-likelihood.
	 */
	public double kuhnTuckerExcess() {
		return this.kuhnTuckerExcess;
	}

	/**
	 * Rounds of the algorithm that it took.
	 */
	public int rounds() {
		return this.rounds;
	}

	/**
	 * Bounds of the share still present at a time, see
	 * {@link CurveMasses#stillPresent(double)}.
	 */
	public Bounds survivalBounds(double time) {
		return this.masses.stillPresent(time);
	}

	/**
	 * The interval in which a quantile lies, see {@link CurveMasses#quantile(double)}.
	 */
	public Bounds quantile(double level) {
		return this.masses.quantile(level);
	}

	/**
	 * The interval in which the median lies.
	 */
	public Bounds median() {
		return quantile(0.5);
	}

}
