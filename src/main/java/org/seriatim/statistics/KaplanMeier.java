package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;

/**
 * Share without the event over time, for exact and right-censored times.
 * <p>
 * At each distinct time \(t_j\) with \(n_j\) at risk and \(d_j\) events \( S_j = \prod_{k
 * \le j} (1 - d_k/n_k) \); a subject censored at \(t_j\) is still at risk for the events
 * at \(t_j\). With \( G_j = \sum_{k \le j} d_k / (n_k(n_k-d_k)) \) the standard error is
 * \( S_j \sqrt{G_j} \) (Greenwood) and the limits are \( S_j^{\exp(\pm w)} \), \( w =
 * z\sqrt{G_j}/|\ln S_j| \) (log-log).
 * <ul>
 * <li>No observations: {@link Estimate.NotEstimable}.</li>
 * <li>While S is 1: standard error 0, no limits. Once S is 0: neither.</li>
 * <li>A quantile that the curve does not reach is empty, and so is a limit.</li>
 * </ul>
 * <p>
 * Sources: Kaplan, Meier 1958, JASA 53, 457-481; Greenwood 1926; Kalbfleisch, Prentice
 * 1980 (limits); Brookmeyer, Crowley 1982, Biometrics 38, 29-41 (limits of quantiles).
 */
public final class KaplanMeier {

	/**
	 * Within this distance a curve meets a level exactly.
	 */
	private static final double SAME_LEVEL = 1.5e-8;

	private final List<Row> rows;

	private final int n;

	private final double confidence;

	private KaplanMeier(List<Row> rows, int n, double confidence) {
		this.rows = rows;
		this.n = n;
		this.confidence = confidence;
	}

	/**
	 * The curve at one distinct observed time.
	 *
	 * @param time event or censoring time
	 * @param atRisk number with this time or a later one
	 * @param events number of events at this time
	 * @param censored number censored at this time
	 * @param survival share without the event just after this time
	 * @param standardError of {@code survival}; empty once it is 0
	 * @param limits of {@code survival}; empty while it is 1 and once it is 0
	 */
	public record Row(double time, int atRisk, int events, int censored, double survival, OptionalDouble standardError,
			Optional<Bounds> limits) {
	}

	/**
	 * A quantile of the time with its limits, each empty where the curve does not reach
	 * the level.
	 */
	public record Quantile(OptionalDouble time, OptionalDouble low, OptionalDouble high) {
	}

	/**
	 * @param observations in any order
	 * @param confidence of all limits, strictly between 0 and 1
	 */
	public static Estimate<KaplanMeier> of(List<EventTime> observations, double confidence) {
		double z = Tails.normalHalfWidth(confidence);
		int n = observations.size();
		if (n == 0) {
			return Estimate.notEstimable(Estimate.Reason.NO_OBSERVATIONS, 0);
		}
		List<EventTime> sorted = observations.stream().sorted(Comparator.comparingDouble(EventTime::time)).toList();
		List<Row> rows = new ArrayList<>();
		double survival = 1;
		double greenwood = 0;
		for (int i = 0; i < n;) {
			double time = sorted.get(i).time();
			int atRisk = n - i;
			int events = 0;
			int censored = 0;
			for (; i < n && sorted.get(i).time() == time; i++) {
				if (sorted.get(i).event()) {
					events++;
				}
				else {
					censored++;
				}
			}
			survival *= (double) (atRisk - events) / atRisk;
			greenwood += (events == 0) ? 0 : events / ((double) atRisk * (atRisk - events));
			rows.add(row(time, atRisk, events, censored, survival, greenwood, z));
		}
		return Estimate.of(new KaplanMeier(List.copyOf(rows), n, confidence));
	}

	private static Row row(double time, int atRisk, int events, int censored, double survival, double greenwood,
			double z) {
		if (survival == 0) {
			return new Row(time, atRisk, events, censored, 0, OptionalDouble.empty(), Optional.empty());
		}
		OptionalDouble standardError = OptionalDouble.of(survival * Math.sqrt(greenwood));
		if (survival == 1) {
			return new Row(time, atRisk, events, censored, 1, standardError, Optional.empty());
		}
		double w = z * Math.sqrt(greenwood) / Math.abs(Math.log(survival));
		Bounds limits = new Bounds(Math.pow(survival, Math.exp(w)), Math.pow(survival, Math.exp(-w)));
		return new Row(time, atRisk, events, censored, survival, standardError, Optional.of(limits));
	}

	/**
	 * One row for each distinct observed time, in their order.
	 */
	public List<Row> rows() {
		return this.rows;
	}

	/**
	 * The row in force at a time; empty before the first observed time, when the share is
	 * still 1.
	 */
	public Optional<Row> at(double time) {
		if (!(time >= 0)) {
			throw new IllegalArgumentException("time must be at least 0, but is " + time);
		}
		Row last = null;
		for (Row row : this.rows) {
			if (row.time() <= time) {
				last = row;
			}
		}
		return Optional.ofNullable(last);
	}

	/**
	 * Number of observations.
	 */
	public int n() {
		return this.n;
	}

	/**
	 * Number of events.
	 */
	public int events() {
		return this.rows.stream().mapToInt(Row::events).sum();
	}

	/**
	 * Confidence of the limits.
	 */
	public double confidence() {
		return this.confidence;
	}

	/**
	 * The time by which a share has had the event. Where the curve meets the level
	 * exactly and falls further later, the midpoint of the two times; the limits apply
	 * the same rule to the limits of the curve.
	 * @param level share with the event, strictly between 0 and 1
	 */
	public Quantile quantile(double level) {
		if (!(level > 0 && level < 1)) {
			throw new IllegalArgumentException("level must be strictly between 0 and 1, but is " + level);
		}
		return new Quantile(crossing(1 - level, (row) -> OptionalDouble.of(row.survival())),
				crossing(1 - level, (row) -> limit(row, true)), crossing(1 - level, (row) -> limit(row, false)));
	}

	public Quantile median() {
		return quantile(0.5);
	}

	private static OptionalDouble limit(Row row, boolean lower) {
		return row.limits().isEmpty() ? OptionalDouble.empty()
				: OptionalDouble.of(lower ? row.limits().get().low() : row.limits().get().high());
	}

	private OptionalDouble crossing(double level, Function<Row, OptionalDouble> curve) {
		double time = 0;
		double height = 0;
		boolean found = false;
		for (Row row : this.rows) {
			OptionalDouble y = curve.apply(row);
			if (y.isEmpty() || !(y.getAsDouble() < level + SAME_LEVEL)) {
				continue;
			}
			if (!found) {
				found = true;
				time = row.time();
				height = y.getAsDouble();
				if (Math.abs(height - level) >= SAME_LEVEL) {
					return OptionalDouble.of(time);
				}
			}
			else if (y.getAsDouble() < height) {
				return OptionalDouble.of((time + row.time()) / 2);
			}
		}
		return found ? OptionalDouble.of(time) : OptionalDouble.empty();
	}

}
