package org.seriatim.treatment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.Period;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.LidocaineLimit;
import org.seriatim.treatment.Mixture;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.VolumeBalance;

/**
 * What a session adds up to, what does not add up and what has to be seen. It tells and
 * never advises: no dose, no volume and no depth follows from it.
 *
 * @param preparations in order of their numbers
 * @param remarks cautions first, then what does not fit together
 */
public record SessionReview(List<PreparationReview> preparations, Lidocaine lidocaine, List<Remark> remarks) {

	/**
	 * Longest time of a topical lidocaine and prilocaine cream, in minutes (UK product
	 * information, revision of 4 June 2024: 1 to 5 hours).
	 */
	static final int TOPICAL_AT_MOST_MINUTES = 300;

	public SessionReview {
		preparations = List.copyOf(preparations);
		remarks = List.copyOf(remarks);
	}

	/** What is remarked. */
	public enum Kind {

		/** The lot had expired on the day of the session. */
		LOT_EXPIRED(true),
		/** Placed below the dermis. */
		BELOW_DERMIS(true),
		/** Regions with vessels whose occlusion has led to loss of sight. */
		REGION_WITH_VESSELS(true),
		/** More lidocaine that day than the reference limit. */
		LIDOCAINE_ABOVE_LIMIT(true),
		/** The topical anaesthetic stayed on longer than its product information says. */
		TOPICAL_TOO_LONG(true),
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

		/** Dry substance given, in milligrams, as far as the volumes are known. */
		public Optional<BigDecimal> givenMg() {
			return this.mixture.map((content) -> content.substanceMgIn(this.injectedMl));
		}

	}

	/**
	 * Lidocaine by infiltration on that day, over all sessions of the patient, against
	 * the reference limit for an adult without epinephrine.
	 *
	 * @param givenMg empty where the record does not say it of every injection
	 * @param weightKg last recorded body weight
	 * @param weighedOn day of the session that recorded it
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
		var preparations = session.preparations()
			.stream()
			.map((preparation) -> reviewed(preparation, session))
			.toList();
		var lidocaine = lidocaine(session, others, birthDate);
		var remarks = new ArrayList<Remark>();
		preparations.forEach((preparation) -> ofPreparation(preparation, session, remarks));
		session.injections().forEach((injection) -> ofInjection(injection, scars, remarks));
		ofSession(session, lidocaine, remarks);
		remarks.sort(Comparator.comparing(Remark::kind).thenComparing(Remark::part));
		return new SessionReview(preparations, lidocaine, remarks);
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
			@Nullable LocalDate birthDate) {
		var day = session.treatedOn();
		var given = Stream.concat(Stream.of(session), others.stream().filter((other) -> other.treatedOn().equals(day)))
			.map(RecordedSession::lidocaineGivenMg)
			.reduce((one, other) -> one.flatMap((mg) -> other.map(mg::add)))
			.orElseThrow();
		var weighed = Stream
			.concat(Stream.of(session),
					others.stream()
						.filter((other) -> !other.treatedOn().isAfter(day))
						.sorted(Comparator.comparing(RecordedSession::treatedOn)
							.thenComparing(RecordedSession::number)
							.reversed()))
			.filter((candidate) -> candidate.weightKg() != null)
			.findFirst();
		var limit = LidocaineLimit.of(LidocaineLimit.Profile.US_LABEL,
				weighed.map(RecordedSession::weightKg).orElse(null),
				weighed.map((on) -> ChronoUnit.DAYS.between(on.treatedOn(), day)).orElse(0L),
				(birthDate != null) ? Period.between(birthDate, day).getYears() : null, false);
		return new Lidocaine(given, limit, weighed.map(RecordedSession::weightKg).orElse(null),
				weighed.map(RecordedSession::treatedOn).orElse(null));
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
		var scar = (injection.scar() != null) ? scars.get(injection.scar()) : null;
		if (scar != null && scar.region() != injection.region()) {
			remarks.add(remark(Kind.SCAR_IN_ANOTHER_REGION, injection.number(), scar.label(), scar.region(),
					injection.region()));
		}
	}

	private static void ofSession(RecordedSession session, Lidocaine lidocaine, List<Remark> remarks) {
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
		if (session.topicalMinutes() != null && session.topicalMinutes() > TOPICAL_AT_MOST_MINUTES) {
			remarks.add(remark(Kind.TOPICAL_TOO_LONG, 0, session.topicalMinutes(), TOPICAL_AT_MOST_MINUTES));
		}
	}

	private static Remark remark(Kind kind, int part, Object... evidence) {
		return new Remark(kind, part, List.of(evidence));
	}

}
