package org.seriatim.treatment.web;

import java.math.BigDecimal;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.RowKey;
import org.seriatim.shell.RowReference;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.PointPattern;
import org.seriatim.treatment.PreparationId;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.Target;
import org.seriatim.treatment.domain.Placement;
import org.seriatim.treatment.domain.SessionDetails.Injected;

/**
 * One injection of the session's form. A row that names no place, no amount and nothing
 * seen does not count; what was carried over from the row above is not typed.
 *
 * @param number keeps the row and its earlier versions together; typed by nobody
 * @param preparation number of the preparation that it came from
 */
record InjectionRow(@RowKey @Nullable Integer number, @RowReference("preparations") @Nullable Integer preparation,
		@Nullable Region region, @Nullable Target target, @Nullable ScarId scar, @Nullable Layer layer,
		@Decimal(min = "1", max = "2000") @Nullable String points,
		@Decimal(min = "0", max = "50", fraction = 3, unit = "mL") @Nullable String volumeMl,
		@Decimal(min = "10", max = "40") @Nullable String needleGauge,
		@Decimal(min = "0.1", max = "60", fraction = 1, unit = "mm") @Nullable String needleMm,
		@Nullable Boolean blanching, @Nullable Boolean bleeding, @Nullable Boolean baseLifted,
		@Nullable Boolean lumpRaised, @Nullable Boolean secondDirection,
		@Decimal(min = "0", max = "10") @Nullable String painNrs,
		@Decimal(min = "0.001", max = "5", fraction = 4, unit = "mL") @Nullable String pointMl,
		@Decimal(min = "0", max = "90", unit = "°") @Nullable String angleDegrees,
		@Decimal(min = "0.1", max = "1000", fraction = 1, unit = "cm²") @Nullable String areaCm2,
		@Decimal(min = "1", max = "100", fraction = 1, unit = "mm") @Nullable String spacingMm) {

	static InjectionRow empty() {
		return new InjectionRow(null, null, null, null, null, null, null, null, null, null, null, null, null, null,
				null, null, null, null, null, null);
	}

	/** An empty row for an injection from this preparation. */
	static InjectionRow from(int preparation) {
		return new InjectionRow(null, preparation, null, null, null, null, null, null, null, null, null, null, null,
				null, null, null, null, null, null, null);
	}

	/**
	 * @param numbers the numbers of the session's preparations
	 */
	static InjectionRow from(RecordedInjection injection, Map<PreparationId, Integer> numbers) {
		var seen = injection.endpoints();
		var pattern = injection.pattern();
		return new InjectionRow(injection.number(),
				Optional.ofNullable(injection.preparation()).map(numbers::get).orElse(null), injection.region(),
				injection.target(), injection.scar(), injection.layer(), DecimalText.of(injection.points()),
				DecimalText.of(injection.volumeMl()), DecimalText.of(injection.needleGauge()),
				DecimalText.of(injection.needleMm()), seen.blanching(), seen.bleeding(), seen.baseLifted(),
				seen.lumpRaised(), seen.secondDirection(), DecimalText.of(injection.painNrs()),
				DecimalText.of(pattern.pointMl()), DecimalText.of(pattern.angleDegrees()),
				DecimalText.of(pattern.areaCm2()), DecimalText.of(pattern.spacingMm()));
	}

	/**
	 * A row for the next injection: same source, target, layer, needle, volume of a
	 * point, angle and spacing.
	 */
	InjectionRow next() {
		return new InjectionRow(null, this.preparation, null, this.target, null, this.layer, null, null,
				this.needleGauge, this.needleMm, null, null, null, null, null, null, this.pointMl, this.angleDegrees,
				null, this.spacingMm);
	}

	InjectionRow numbered(int number) {
		return new InjectionRow(number, this.preparation, this.region, this.target, this.scar, this.layer, this.points,
				this.volumeMl, this.needleGauge, this.needleMm, this.blanching, this.bleeding, this.baseLifted,
				this.lumpRaised, this.secondDirection, this.painNrs, this.pointMl, this.angleDegrees, this.areaCm2,
				this.spacingMm);
	}

	boolean isBlank() {
		return Stream
			.of(this.region, this.scar, this.points, this.volumeMl, this.blanching, this.bleeding, this.baseLifted,
					this.lumpRaised, this.secondDirection, this.painNrs, this.areaCm2)
			.allMatch(Objects::isNull);
	}

	Injected toDetails() {
		return new Injected(Objects.requireNonNull(this.number), this.preparation,
				new Placement(Objects.requireNonNull(this.region), this.scar, Objects.requireNonNull(this.target),
						this.layer, DecimalText.whole(this.points),
						given(DecimalText.value(this.volumeMl), DecimalText.whole(this.points),
								DecimalText.value(this.pointMl)),
						DecimalText.whole(this.needleGauge), DecimalText.value(this.needleMm), this.blanching,
						this.bleeding, this.baseLifted, this.lumpRaised, this.secondDirection,
						DecimalText.whole(this.painNrs)),
				new PointPattern(DecimalText.value(this.pointMl), DecimalText.whole(this.angleDegrees),
						DecimalText.value(this.areaCm2), DecimalText.value(this.spacingMm)));
	}

	/** What was given; where nobody says so, the volume of all points. */
	private static @Nullable BigDecimal given(@Nullable BigDecimal volumeMl, @Nullable Integer points,
			@Nullable BigDecimal pointMl) {
		return (volumeMl != null) ? volumeMl : PointPattern.volumeOf(points, pointMl).orElse(null);
	}

	/**
	 * As far as it can be read while somebody is still typing; nothing before a region is
	 * chosen.
	 * @param preparations ids by number
	 */
	Optional<RecordedInjection> soFar(Map<Integer, PreparationId> preparations) {
		if (this.region == null) {
			return Optional.empty();
		}
		return Optional.of(new RecordedInjection(Objects.requireNonNull(this.number),
				(this.preparation != null) ? preparations.get(this.preparation) : null, this.region, this.scar,
				Objects.requireNonNullElse(this.target, Target.PORES), this.layer, Typed.whole(this.points), given(),
				Typed.whole(this.needleGauge), Typed.decimal(this.needleMm),
				new RecordedInjection.Endpoints(this.blanching, this.bleeding, this.baseLifted, this.lumpRaised,
						this.secondDirection),
				Typed.whole(this.painNrs), new PointPattern(Typed.decimal(this.pointMl), Typed.whole(this.angleDegrees),
						positive(this.areaCm2), positive(this.spacingMm))));
	}

	/*
	 * What cannot be read is unknown; then the points must not stand for it.
	 */
	private @Nullable BigDecimal given() {
		return (this.volumeMl != null) ? Typed.decimal(this.volumeMl)
				: given(null, Typed.whole(this.points), Typed.decimal(this.pointMl));
	}

	private static @Nullable BigDecimal positive(@Nullable String text) {
		var value = Typed.decimal(text);
		return (value != null && value.signum() > 0) ? value : null;
	}

}
