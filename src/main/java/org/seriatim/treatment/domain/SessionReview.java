package org.seriatim.treatment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.Period;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.treatment.Layer;
import org.seriatim.screening.BodyWeight;
import org.seriatim.treatment.LidocaineLimit;
import org.seriatim.treatment.Mixture;
import org.seriatim.treatment.PointPlan;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.TopicalAnaesthetic;
import org.seriatim.treatment.TopicalAnaesthetic.Measure;
import org.seriatim.treatment.VolumeBalance;

/**
 * What a session adds up to, what does not add up and what has to be seen. It tells and
 * never advises: no dose, no volume and no depth follows from it.
 *
 * @param preparations in order of their numbers
 * @param areas what was placed by region, in the order of the regions
 * @param remarks cautions first, then what does not fit together
 */
public record SessionReview(List<PreparationReview> preparations, List<Area> areas, Lidocaine lidocaine,
		Topical topical, List<Remark> remarks) {

	/** Longest time of a topical lidocaine and prilocaine cream, in minutes. */
	static final int TOPICAL_AT_MOST_MINUTES = 300;

	/** Largest mass of it, in grams. */
	static final int TOPICAL_AT_MOST_GRAMS = 60;

	/** Largest area of it, in cm². */
	static final int TOPICAL_AT_MOST_CM2 = 600;

	public SessionReview {
		preparations = List.copyOf(preparations);
		areas = List.copyOf(areas);
		remarks = List.copyOf(remarks);
	}

	/** What is remarked. */
	public enum Kind {

		/** The lot had expired on the day of the session. */
		LOT_EXPIRED(true),
		/** Placed below the dermis. */
		BELOW_DERMIS(true),
		/** No blanching was seen at the tip in a region with vessels. */
		NO_BLANCHING_OVER_VESSELS(true),
		/** Regions with vessels whose occlusion has led to loss of sight. */
		REGION_WITH_VESSELS(true),
		/** More lidocaine that day than the reference limit. */
		LIDOCAINE_ABOVE_LIMIT(true),
		/** The topical anaesthetic stayed on longer than its product information says. */
		TOPICAL_TOO_LONG(true),
		/** More of the cream than its product information says. */
		TOPICAL_TOO_MUCH(true),
		/** The cream covered more skin than its product information says. */
		TOPICAL_TOO_WIDE(true),
		/** The cream covered much skin. */
		TOPICAL_WIDE(true),
		/** Cream and infiltration together are above their reference limits. */
		ANAESTHETICS_TOGETHER(true),
		/** A lump was felt on a side after the injections. */
		LUMP_FELT(true),
		/** Prepared, injected and discarded volume do not add up. */
		VOLUME_DOES_NOT_ADD_UP(false),
		/** The amount drawn is below zero: it was worked out as a remainder. */
		STOCK_BELOW_ZERO(false),
		/** The scar lies in another region than the injection. */
		SCAR_IN_ANOTHER_REGION(false);

		private final boolean caution;

		Kind(boolean caution) {
			this.caution = caution;
		}

		/** Whether it is a caution; otherwise it is a data-quality item. */
		public boolean isCaution() {
			return this.caution;
		}

	}

	/**
	 * One remark.
	 *
	 * @param part number of the preparation or injection that it is about, 0 for the
	 * whole session
	 * @param evidence what it rests on: volumes, days, regions, a scar's label
	 */
	public record Remark(Kind kind, int part, List<Object> evidence) {

		public Remark {
			evidence = List.copyOf(evidence);
		}

	}

	/**
	 * One preparation.
	 *
	 * @param balance empty where a volume is not on record
	 * @param mixture empty where the record does not say what was mixed
	 * @param injectedMl the known volumes injected from it
	 */
	public record PreparationReview(RecordedPreparation preparation, Optional<VolumeBalance> balance,
			Optional<Mixture> mixture, BigDecimal injectedMl) {

		/**
		 * What is still in the syringes, in millilitres, as far as the volumes are known;
		 * below zero where more was used than prepared.
		 */
		public Optional<BigDecimal> leftInSyringesMl() {
			return this.preparation.totalMl()
				.map((total) -> total.subtract(this.injectedMl)
					.subtract(Objects.requireNonNullElse(this.preparation.discardedMl(), BigDecimal.ZERO)));
		}

		/** Hyaluronic acid given, in milligrams, as far as the volumes are known. */
		public Optional<BigDecimal> hyaluronicGivenMg() {
			return this.preparation.hyaluronicMixture().map((content) -> content.substanceMgIn(this.injectedMl));
		}

		/** Dry substance given, in milligrams, as far as the volumes are known. */
		public Optional<BigDecimal> givenMg() {
			return this.mixture.map((content) -> content.substanceMgIn(this.injectedMl));
		}

	}

	/**
	 * What was placed in one region, over all its injections.
	 *
	 * @param entries number of injections, each of many points
	 * @param points the known ones
	 * @param volumeMl the known volumes
	 * @param complete whether every volume is known
	 * @param planned what area and spacing gave, empty where none of the injections says
	 * so
	 */
	public record Area(Region region, int entries, int points, BigDecimal volumeMl, boolean complete,
			Optional<PointPlan> planned) {
	}

	/**
	 * The cream of that day, over all sessions of the patient: the largest mass, area and
	 * time, since one application is recorded with each session that it serves.
	 *
	 * @param fraction the largest share of a limit, empty where nothing is known
	 * @param together with the infiltration's share added; empty where one of the two is
	 * unknown. There is no published formula for both; adding the shares is a cautious
	 * convention.
	 */
	public record Topical(TopicalAnaesthetic cream, Optional<BigDecimal> fraction, Optional<BigDecimal> together) {

		/** Whether both together are above their limits; the limit itself is not. */
		public boolean isTooMuchTogether() {
			return this.together.filter((sum) -> sum.compareTo(BigDecimal.ONE) > 0).isPresent();
		}

	}

	/** What was felt on which side. */
	public enum Side {

		RIGHT, MIDDLE, LEFT

	}

	/** All that was placed, as one line. */
	public Area total() {
		return this.areas.stream()
			.reduce((one, other) -> new Area(one.region(), one.entries() + other.entries(),
					one.points() + other.points(), one.volumeMl().add(other.volumeMl()),
					one.complete() && other.complete(), both(one.planned(), other.planned())))
			.orElseGet(() -> new Area(Region.FOREHEAD, 0, 0, BigDecimal.ZERO, true, Optional.empty()));
	}

	/**
	 * Lidocaine by infiltration on that day, over all sessions of the patient, against
	 * the reference limit for an adult without epinephrine.
	 *
	 * @param givenMg empty where the record does not say it of every injection
	 * @param weightKg last recorded body weight
	 * @param weighedOn day on which it was taken
	 */
	public record Lidocaine(Optional<BigDecimal> givenMg, LidocaineLimit limit, @Nullable BigDecimal weightKg,
			@Nullable LocalDate weighedOn) {

		/** The share of the limit that was given, 1 being the limit itself. */
		public Optional<BigDecimal> fraction() {
			return (this.limit instanceof LidocaineLimit.Known known) ? this.givenMg.map(known::fractionOf)
					: Optional.empty();
		}

		/** Whether more than the limit was given. */
		public boolean isAboveLimit() {
			return this.limit instanceof LidocaineLimit.Known known
					&& this.givenMg.filter(known::isExceededBy).isPresent();
		}

	}

	/**
	 * Reviews one session.
	 * @param others the patient's other sessions
	 * @param birthDate {@code null} if it is not on record
	 * @param scars the patient's tracked scars
	 */
	public static SessionReview of(RecordedSession session, Collection<RecordedSession> others,
			@Nullable LocalDate birthDate, Map<ScarId, TrackedScar> scars) {
		return of(session, others, birthDate, scars, List.of());
	}

	/**
	 * Reviews one session.
	 * @param others the patient's other sessions
	 * @param birthDate {@code null} if it is not on record
	 * @param scars the patient's tracked scars
	 * @param weights those that were taken outside sessions
	 */
	public static SessionReview of(RecordedSession session, Collection<RecordedSession> others,
			@Nullable LocalDate birthDate, Map<ScarId, TrackedScar> scars, Collection<BodyWeight> weights) {
		var preparations = session.preparations()
			.stream()
			.map((preparation) -> reviewed(preparation, session))
			.toList();
		var lidocaine = lidocaine(session, others, birthDate, weights);
		var topical = topical(session, others, lidocaine);
		var remarks = new ArrayList<Remark>();
		preparations.forEach((preparation) -> ofPreparation(preparation, session, remarks));
		session.injections().forEach((injection) -> ofInjection(injection, scars, remarks));
		ofSession(session, lidocaine, topical, remarks);
		remarks.sort(Comparator.comparing(Remark::kind).thenComparing(Remark::part));
		return new SessionReview(preparations, areas(session), lidocaine, topical, remarks);
	}

	private static List<Area> areas(RecordedSession session) {
		var byRegion = new EnumMap<Region, Area>(Region.class);
		for (var injection : session.injections()) {
			var area = new Area(injection.region(), 1, Objects.requireNonNullElse(injection.points(), 0),
					Objects.requireNonNullElse(injection.volumeMl(), BigDecimal.ZERO), injection.volumeMl() != null,
					injection.pattern().plan());
			byRegion.merge(injection.region(), area,
					(one, other) -> new Area(one.region(), one.entries() + 1, one.points() + other.points(),
							one.volumeMl().add(other.volumeMl()), one.complete() && other.complete(),
							both(one.planned(), other.planned())));
		}
		return List.copyOf(byRegion.values());
	}

	private static Optional<PointPlan> both(Optional<PointPlan> one, Optional<PointPlan> other) {
		return Stream.of(one, other)
			.flatMap(Optional::stream)
			.reduce((a, b) -> new PointPlan(a.points() + b.points(),
					a.volume().flatMap((ml) -> b.volume().map(ml::add)).orElse(null)));
	}

	private static Topical topical(RecordedSession session, Collection<RecordedSession> others, Lidocaine lidocaine) {
		var creams = Stream
			.concat(Stream.of(session),
					others.stream().filter((other) -> other.treatedOn().equals(session.treatedOn())))
			.map(RecordedSession::topical)
			.toList();
		var cream = new TopicalAnaesthetic(
				creams.stream()
					.map(TopicalAnaesthetic::grams)
					.filter(Objects::nonNull)
					.max(BigDecimal::compareTo)
					.orElse(null),
				creams.stream()
					.map(TopicalAnaesthetic::areaCm2)
					.filter(Objects::nonNull)
					.max(BigDecimal::compareTo)
					.orElse(null),
				creams.stream()
					.map(TopicalAnaesthetic::minutes)
					.filter(Objects::nonNull)
					.max(Integer::compare)
					.orElse(null));
		var fraction = cream.fraction();
		return new Topical(cream, fraction, fraction.flatMap((share) -> lidocaine.fraction().map(share::add)));
	}

	/** The cautions alone. */
	public List<Remark> cautions() {
		return this.remarks.stream().filter((remark) -> remark.kind().isCaution()).toList();
	}

	/** The data-quality items alone. */
	public List<Remark> dataQuality() {
		return this.remarks.stream().filter((remark) -> !remark.kind().isCaution()).toList();
	}

	private static PreparationReview reviewed(RecordedPreparation preparation, RecordedSession session) {
		var injected = session.injectionsFrom(preparation)
			.stream()
			.map(RecordedInjection::volumeMl)
			.flatMap(Stream::ofNullable)
			.reduce(BigDecimal.ZERO, BigDecimal::add);
		return new PreparationReview(preparation, session.balanceOf(preparation), preparation.mixture(), injected);
	}

	private static Lidocaine lidocaine(RecordedSession session, Collection<RecordedSession> others,
			@Nullable LocalDate birthDate, Collection<BodyWeight> weights) {
		var day = session.treatedOn();
		var given = Stream.concat(Stream.of(session), others.stream().filter((other) -> other.treatedOn().equals(day)))
			.map(RecordedSession::lidocaineGivenMg)
			.reduce((one, other) -> one.flatMap((mg) -> other.map(mg::add)))
			.orElseThrow();
		var weighed = weighed(session, others, weights);
		var limit = LidocaineLimit.of(LidocaineLimit.Profile.US_LABEL, weighed.map(Weighed::kilograms).orElse(null),
				weighed.map((on) -> ChronoUnit.DAYS.between(on.on(), day)).orElse(0L),
				(birthDate != null) ? Period.between(birthDate, day).getYears() : null, false);
		return new Lidocaine(given, limit, weighed.map(Weighed::kilograms).orElse(null),
				weighed.map(Weighed::on).orElse(null));
	}

	/** A weight and its day. */
	private record Weighed(BigDecimal kilograms, LocalDate on) {
	}

	/**
	 * What the session itself says of its day; else the latest that is known by then, of
	 * one day the one that was taken on purpose before the one that a session noted.
	 */
	private static Optional<Weighed> weighed(RecordedSession session, Collection<RecordedSession> others,
			Collection<BodyWeight> weights) {
		var noted = others.stream()
			.sorted(Comparator.comparing(RecordedSession::treatedOn).thenComparing(RecordedSession::number).reversed())
			.flatMap((other) -> weighed(other).stream());
		var taken = weights.stream().map((weight) -> new Weighed(weight.weightKg(), weight.weighedOn()));
		return weighed(session).or(() -> Stream.concat(taken, noted)
			.filter((weight) -> !weight.on().isAfter(session.treatedOn()))
			.reduce((one, other) -> other.on().isAfter(one.on()) ? other : one));
	}

	private static Optional<Weighed> weighed(RecordedSession session) {
		return Optional.ofNullable(session.weightKg()).map((weight) -> new Weighed(weight, session.treatedOn()));
	}

	private static void ofPreparation(PreparationReview reviewed, RecordedSession session, List<Remark> remarks) {
		var preparation = reviewed.preparation();
		if (preparation.hadExpiredOn(session.treatedOn())) {
			remarks.add(remark(Kind.LOT_EXPIRED, preparation.number(), preparation.expiresOn()));
		}
		if (preparation.stockDrawnMl() != null && preparation.stockDrawnMl().signum() < 0) {
			remarks.add(remark(Kind.STOCK_BELOW_ZERO, preparation.number(), preparation.stockDrawnMl()));
		}
		reviewed.balance()
			.filter((balance) -> !balance.addsUp())
			.ifPresent((balance) -> remarks.add(remark(Kind.VOLUME_DOES_NOT_ADD_UP, preparation.number(),
					balance.preparedMl(), balance.injectedMl(), balance.discardedMl(), balance.differenceMl())));
	}

	private static void ofInjection(RecordedInjection injection, Map<ScarId, TrackedScar> scars, List<Remark> remarks) {
		if (injection.layer() == Layer.BELOW_DERMIS) {
			remarks.add(remark(Kind.BELOW_DERMIS, injection.number(), injection.region()));
		}
		if (injection.region().hasVessels() && Boolean.FALSE.equals(injection.endpoints().blanching())) {
			remarks.add(remark(Kind.NO_BLANCHING_OVER_VESSELS, injection.number(), injection.region()));
		}
		var scar = (injection.scar() != null) ? scars.get(injection.scar()) : null;
		if (scar != null && scar.region() != injection.region()) {
			remarks.add(remark(Kind.SCAR_IN_ANOTHER_REGION, injection.number(), scar.label(), scar.region(),
					injection.region()));
		}
	}

	private static void ofSession(RecordedSession session, Lidocaine lidocaine, Topical topical, List<Remark> remarks) {
		var vessels = session.injections()
			.stream()
			.map(RecordedInjection::region)
			.filter(Region::hasVessels)
			.distinct()
			.sorted()
			.toList();
		if (!vessels.isEmpty()) {
			remarks.add(new Remark(Kind.REGION_WITH_VESSELS, 0, List.copyOf(vessels)));
		}
		if (lidocaine.isAboveLimit()) {
			remarks.add(remark(Kind.LIDOCAINE_ABOVE_LIMIT, 0));
		}
		var cream = session.topical();
		if (cream.exceeds(Measure.MINUTES)) {
			remarks.add(remark(Kind.TOPICAL_TOO_LONG, 0, cream.minutes(), TOPICAL_AT_MOST_MINUTES));
		}
		if (cream.exceeds(Measure.GRAMS)) {
			remarks.add(remark(Kind.TOPICAL_TOO_MUCH, 0, cream.grams(), TOPICAL_AT_MOST_GRAMS));
		}
		if (cream.exceeds(Measure.AREA)) {
			remarks.add(remark(Kind.TOPICAL_TOO_WIDE, 0, cream.areaCm2(), TOPICAL_AT_MOST_CM2));
		}
		if (cream.coversMuch()) {
			remarks.add(remark(Kind.TOPICAL_WIDE, 0, cream.areaCm2()));
		}
		if (topical.isTooMuchTogether()) {
			remarks.add(remark(Kind.ANAESTHETICS_TOGETHER, 0, topical.together().orElseThrow()));
		}
		var sides = Map.of(Side.RIGHT, session.aftercare().right(), Side.MIDDLE, session.aftercare().middle(),
				Side.LEFT, session.aftercare().left());
		var felt = Stream.of(Side.values()).filter((side) -> Boolean.TRUE.equals(sides.get(side).lumpFelt())).toList();
		if (!felt.isEmpty()) {
			remarks.add(new Remark(Kind.LUMP_FELT, 0, List.copyOf(felt)));
		}
	}

	private static Remark remark(Kind kind, int part, Object... evidence) {
		return new Remark(kind, part, List.of(evidence));
	}

}
