package org.seriatim.treatment.domain;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.Target;

/**
 * How the clinic usually works. What lies outside a range is pointed out, so that a slip
 * of the pen is seen; it is neither wrong nor refused, and nothing here says what to do.
 *
 * @param number of the version: 1, 2, …
 * @param ranges of what the clinic has a range of
 * @param notes in the clinic's own words
 */
public record UsualPractice(int number, Map<UsualMeasure, Range> ranges, Map<UsualTopic, String> notes) {

	public UsualPractice {
		ranges = Map.copyOf(ranges);
		notes = Map.copyOf(notes);
	}

	/**
	 * A range with its ends; at least one of the two is there.
	 *
	 * @param low {@code null} where it has no lower end
	 * @param high {@code null} where it has no upper end
	 */
	public record Range(@Nullable BigDecimal low, @Nullable BigDecimal high) {

		public Range {
			if (low == null && high == null) {
				throw new IllegalArgumentException("a range needs a low or a high end");
			}
			if (low != null && high != null && low.compareTo(high) > 0) {
				throw new IllegalArgumentException("low must be at most high, was " + low + " to " + high);
			}
			// 10 and 10.0 are the same range
			low = (low != null) ? low.stripTrailingZeros() : null;
			high = (high != null) ? high.stripTrailingZeros() : null;
		}

		/** Whether the value lies in it; its ends do. */
		public boolean holds(BigDecimal value) {
			return (this.low == null || value.compareTo(this.low) >= 0)
					&& (this.high == null || value.compareTo(this.high) <= 0);
		}

	}

	/**
	 * A value outside the range of the clinic.
	 *
	 * @param part number of the preparation or injection that it is of, 0 where it is of
	 * neither
	 * @param region that it is of, the medial cheek for both cheek regions of its side;
	 * {@code null} where it is of no region
	 */
	public record Unusual(UsualMeasure measure, int part, @Nullable Region region, BigDecimal value, Range range) {
	}

	/** The notes on the whole sitting, in their order. */
	public Map<UsualTopic, String> general() {
		var general = new EnumMap<UsualTopic, String>(UsualTopic.class);
		this.notes.forEach((topic, note) -> {
			if (topic.isGeneral()) {
				general.put(topic, note);
			}
		});
		return general;
	}

	/** The notes on injections for this target into this region, in their order. */
	public List<String> on(Region region, Target target) {
		var notes = new EnumMap<UsualTopic, String>(UsualTopic.class);
		this.notes.forEach((topic, note) -> {
			if (topic.isAbout(region, target)) {
				notes.put(topic, note);
			}
		});
		return List.copyOf(notes.values());
	}

	/**
	 * What of a session lies outside the ranges, in the order of the measures. Volumes by
	 * place are compared where all of them are known; the ranges by cheek side and by
	 * area hold where pores were treated there, since few points for a scar need little.
	 */
	public List<Unusual> unusualIn(RecordedSession session) {
		var found = new ArrayList<Unusual>();
		for (var measure : UsualMeasure.values()) {
			var range = this.ranges.get(measure);
			if (range != null) {
				valuesOf(measure, session).forEach((value) -> {
					if (!range.holds(value.value())) {
						found.add(new Unusual(measure, value.part(), value.region(), value.value(), range));
					}
				});
			}
		}
		return found;
	}

	private record Value(int part, @Nullable Region region, BigDecimal value) {
	}

	private static List<Value> valuesOf(UsualMeasure measure, RecordedSession session) {
		return switch (measure) {
			case DILUENT_ML -> session.preparations()
				.stream()
				.filter((preparation) -> preparation.diluentMl() != null)
				.map((preparation) -> new Value(preparation.number(), null,
						Objects.requireNonNull(preparation.diluentMl())))
				.toList();
			case TOPICAL_MINUTES -> (session.topicalMinutes() != null)
					? List.of(new Value(0, null, BigDecimal.valueOf(session.topicalMinutes()))) : List.of();
			case WHOLE_FACE_ML -> sum(session.injections()).map((ml) -> new Value(0, null, ml)).stream().toList();
			case CHEEK_SIDE_ML -> volumes(session, UsualPractice::cheekOf);
			case AREA_ML -> volumes(session, (region) -> (cheekOf(region) == null) ? region : null);
			case POINT_ML -> each(session, (injection) -> injection.pattern().pointMl());
			case SCAR_POINTS ->
				each(session, (injection) -> (injection.target() == Target.SCAR) ? whole(injection.points()) : null);
			case SPACING_MM -> each(session,
					(injection) -> (injection.target() == Target.PORES) ? injection.pattern().spacingMm() : null);
			case NEEDLE_GAUGE -> each(session, (injection) -> whole(injection.needleGauge()));
			case NEEDLE_MM -> each(session, RecordedInjection::needleMm);
			case ANGLE_DEGREES -> each(session, (injection) -> whole(injection.pattern().angleDegrees()));
		};
	}

	/** One value of an injection. */
	@FunctionalInterface
	private interface OfInjection {

		@Nullable BigDecimal of(RecordedInjection injection);

	}

	/** Which place a region counts to; {@code null} for none. */
	@FunctionalInterface
	private interface PlaceOf {

		@Nullable Region of(Region region);

	}

	private static List<Value> each(RecordedSession session, OfInjection what) {
		var values = new ArrayList<Value>();
		for (var injection : session.injections()) {
			var value = what.of(injection);
			if (value != null) {
				values.add(new Value(injection.number(), null, value));
			}
		}
		return values;
	}

	private static List<Value> volumes(RecordedSession session, PlaceOf places) {
		var byPlace = new EnumMap<Region, List<RecordedInjection>>(Region.class);
		for (var injection : session.injections()) {
			var place = places.of(injection.region());
			if (place != null) {
				byPlace.computeIfAbsent(place, (key) -> new ArrayList<>()).add(injection);
			}
		}
		var values = new ArrayList<Value>();
		byPlace.forEach((place, injections) -> {
			if (injections.stream().anyMatch((injection) -> injection.target() == Target.PORES)) {
				sum(injections).ifPresent((ml) -> values.add(new Value(0, place, ml)));
			}
		});
		return values;
	}

	/** All of it in millilitres; empty where there is none or a volume is unknown. */
	private static Optional<BigDecimal> sum(List<RecordedInjection> injections) {
		if (injections.isEmpty() || injections.stream().anyMatch((injection) -> injection.volumeMl() == null)) {
			return Optional.empty();
		}
		return injections.stream()
			.map(RecordedInjection::volumeMl)
			.map(Objects::requireNonNull)
			.reduce(BigDecimal::add);
	}

	private static @Nullable Region cheekOf(Region region) {
		return switch (region) {
			case CHEEK_MEDIAL_LEFT, CHEEK_LATERAL_LEFT -> Region.CHEEK_MEDIAL_LEFT;
			case CHEEK_MEDIAL_RIGHT, CHEEK_LATERAL_RIGHT -> Region.CHEEK_MEDIAL_RIGHT;
			default -> null;
		};
	}

	private static @Nullable BigDecimal whole(@Nullable Integer number) {
		return (number != null) ? BigDecimal.valueOf(number) : null;
	}

}
