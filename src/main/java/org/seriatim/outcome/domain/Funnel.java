package org.seriatim.outcome.domain;

import java.util.Collection;
import java.util.List;
import java.util.OptionalDouble;

import org.seriatim.statistics.EventCount;
import org.seriatim.statistics.FunnelLimits;

/**
 * Whether units stray further from the clinic's own rate than chance explains: exact
 * limits at each unit's effective size, its sessions divided by the clinic's design
 * effect. The design effect is the clinic's, because that of a unit with few patients is
 * itself mostly chance.
 *
 * @param target the clinic's rate, strictly between 0 and 1
 * @param designEffect of the clinic, at least 1
 * @param points one a unit
 * @param dispersion how much more the units differ than chance alone explains, about 1
 * where they do not; empty with fewer than {@value #FEWEST_UNITS} units
 */
public record Funnel(double target, double designEffect, List<Point> points, OptionalDouble dispersion) {

	/** With fewer the dispersion is unstable (Spiegelhalter 2005). */
	public static final int FEWEST_UNITS = 10;

	private static final double WINSORISED = 0.1;

	/** Where a unit lies. */
	public enum Place {

		WITHIN, BELOW_95, ABOVE_95, BELOW_998, ABOVE_998;

		/** Whether 1 in 1000 lies so far out by chance on this side. */
		public boolean isSignal() {
			return this == BELOW_998 || this == ABOVE_998;
		}

	}

	/**
	 * A unit.
	 *
	 * @param effectiveSize sessions over the design effect, rounded down, at least 1
	 */
	public record Point(String unit, int sessions, int effectiveSize, int withFinding, double rate,
			FunnelLimits limits) {

		public Place place() {
			if (this.rate > this.limits.high998()) {
				return Place.ABOVE_998;
			}
			if (this.rate > this.limits.high95()) {
				return Place.ABOVE_95;
			}
			if (this.rate < this.limits.low998()) {
				return Place.BELOW_998;
			}
			return (this.rate < this.limits.low95()) ? Place.BELOW_95 : Place.WITHIN;
		}

	}

	/**
	 * @param clinic all sessions together, with a rate strictly between 0 and 1
	 * @param units to compare
	 */
	public static Funnel of(SessionRates.Row clinic, Collection<SessionRates.Row> units) {
		double effect = clinic.designEffect().orElse(1);
		var points = units.stream().map((unit) -> {
			int size = Math.max(1, (int) Math.floor(unit.sessions() / effect));
			return new Point(unit.group(), unit.sessions(), size, unit.withFinding(), unit.rate(),
					FunnelLimits.exact(clinic.rate(), size));
		}).toList();
		var dispersion = OptionalDouble.empty();
		if (points.size() >= FEWEST_UNITS) {
			var counts = units.stream().map((unit) -> new EventCount(unit.withFinding(), unit.sessions())).toList();
			dispersion = FunnelLimits.dispersion(counts, clinic.rate(), WINSORISED)
				.known()
				.map((known) -> OptionalDouble.of(known.phi() / effect))
				.orElse(OptionalDouble.empty());
		}
		return new Funnel(clinic.rate(), effect, points, dispersion);
	}

	/** Whether there is anything to compare with. */
	public static boolean isPossible(SessionRates.Row clinic) {
		return clinic.rate() > 0 && clinic.rate() < 1;
	}

}
