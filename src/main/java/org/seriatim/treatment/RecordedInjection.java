package org.seriatim.treatment;

import java.math.BigDecimal;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;

/**
 * What was placed in one target, as it was recorded; what nobody entered is {@code null}.
 *
 * @param number through the session's injections
 * @param preparation what was injected, if recorded
 * @param scar the tracked scar that it went into; {@code null} where none was labelled
 * @param points number of points
 * @param volumeMl over all points
 * @param painNrs 0 to 10, while injecting
 * @param pattern what the exchange bundle does not carry
 */
public record RecordedInjection(int number, @Nullable PreparationId preparation, Region region, @Nullable ScarId scar,
		Target target, @Nullable Layer layer, @Nullable Integer points, @Nullable BigDecimal volumeMl,
		@Nullable Integer needleGauge, @Nullable BigDecimal needleMm, Endpoints endpoints, @Nullable Integer painNrs,
		PointPattern pattern) {

	/** An injection of whose pattern nothing is known. */
	public RecordedInjection(int number, @Nullable PreparationId preparation, Region region, @Nullable ScarId scar,
			Target target, @Nullable Layer layer, @Nullable Integer points, @Nullable BigDecimal volumeMl,
			@Nullable Integer needleGauge, @Nullable BigDecimal needleMm, Endpoints endpoints,
			@Nullable Integer painNrs) {
		this(number, preparation, region, scar, target, layer, points, volumeMl, needleGauge, needleMm, endpoints,
				painNrs, PointPattern.UNKNOWN);
	}

	/**
	 * What was seen while injecting; {@code null} is unknown.
	 */
	public record Endpoints(@Nullable Boolean blanching, @Nullable Boolean bleeding, @Nullable Boolean baseLifted,
			@Nullable Boolean lumpRaised, @Nullable Boolean secondDirection) {
	}

	/** As far as later decisions look back at it. */
	public InjectionFacts facts() {
		return new InjectionFacts(this.region, this.scar, this.layer, this.points,
				(this.volumeMl != null) ? this.volumeMl.doubleValue() : null, this.painNrs);
	}

}
