package org.seriatim.treatment;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Objects;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientId;

/**
 * A session as it is on record, with what was prepared and injected; what nobody entered
 * is {@code null}.
 *
 * @param number through the patient's sessions
 * @param rfDepthMm depth of the radiofrequency microneedling
 * @param topicalMinutes how long the topical anaesthetic stayed on
 * @param painNrs 0 to 10, of the whole session
 * @param preparations in order of their numbers
 * @param injections in order of their numbers
 * @param aftercare what the exchange bundle does not carry
 */
public record RecordedSession(SessionId id, PatientId patient, SeriesId series, int number, LocalDate treatedOn,
		StaffId practitioner, @Nullable BigDecimal weightKg, @Nullable Combination combination,
		@Nullable BigDecimal rfDepthMm, @Nullable Integer topicalMinutes, @Nullable Boolean oralAnalgesic,
		@Nullable Boolean vibration, @Nullable Integer painNrs, @Nullable Boolean massage,
		List<RecordedPreparation> preparations, List<RecordedInjection> injections, Aftercare aftercare) {

	/** A session of whose aftercare nothing is known. */
	public RecordedSession(SessionId id, PatientId patient, SeriesId series, int number, LocalDate treatedOn,
			StaffId practitioner, @Nullable BigDecimal weightKg, @Nullable Combination combination,
			@Nullable BigDecimal rfDepthMm, @Nullable Integer topicalMinutes, @Nullable Boolean oralAnalgesic,
			@Nullable Boolean vibration, @Nullable Integer painNrs, @Nullable Boolean massage,
			List<RecordedPreparation> preparations, List<RecordedInjection> injections) {
		this(id, patient, series, number, treatedOn, practitioner, weightKg, combination, rfDepthMm, topicalMinutes,
				oralAnalgesic, vibration, painNrs, massage, preparations, injections, Aftercare.UNKNOWN);
	}

	public RecordedSession {
		preparations = List.copyOf(preparations);
		injections = List.copyOf(injections);
	}

	/**
	 * The day of the last of these sessions before a day; {@code null} if there is none.
	 */
	public static @Nullable LocalDate lastBefore(Collection<RecordedSession> sessions, LocalDate day) {
		return sessions.stream()
			.map(RecordedSession::treatedOn)
			.filter((treated) -> treated.isBefore(day))
			.max(LocalDate::compareTo)
			.orElse(null);
	}

	/** As far as later decisions look back at it. */
	public SessionFacts facts() {
		return new SessionFacts(this.id, this.series, this.number, this.treatedOn, this.painNrs,
				this.injections.stream().map(RecordedInjection::facts).toList());
	}

	/** The cream of the session. */
	public TopicalAnaesthetic topical() {
		return this.aftercare.topical(this.topicalMinutes);
	}

	/** Whether radiofrequency was combined with it. */
	public boolean usesRadiofrequency() {
		return this.combination != null && this.combination != Combination.NONE;
	}

	/** The injections from one of its preparations. */
	public List<RecordedInjection> injectionsFrom(RecordedPreparation preparation) {
		return this.injections.stream()
			.filter((injection) -> preparation.id().equals(injection.preparation()))
			.toList();
	}

	/**
	 * Whether the volume of a preparation adds up; empty where one of the volumes is not
	 * on record, or an injection does not say what was injected.
	 */
	public Optional<VolumeBalance> balanceOf(RecordedPreparation preparation) {
		var injected = injectionsFrom(preparation).stream().map(RecordedInjection::volumeMl).toList();
		var everyVolumeIsKnown = injected.stream().allMatch(Objects::nonNull)
				&& this.injections.stream().allMatch((injection) -> injection.preparation() != null);
		return balance(preparation.stockDrawnMl(), preparation.addedDiluentMl(), preparation.lidocaineMl(),
				everyVolumeIsKnown ? injected : null, preparation.discardedMl());
	}

	/**
	 * The balance of volumes as far as they are known.
	 * @param injectedMl {@code null} where one of them is not known
	 */
	public static Optional<VolumeBalance> balance(@Nullable BigDecimal stockDrawnMl,
			@Nullable BigDecimal addedDiluentMl, @Nullable BigDecimal lidocaineMl,
			@Nullable List<BigDecimal> injectedMl, @Nullable BigDecimal discardedMl) {
		if (injectedMl == null || stockDrawnMl == null || addedDiluentMl == null || lidocaineMl == null
				|| discardedMl == null) {
			return Optional.empty();
		}
		return Optional.of(VolumeBalance.of(stockDrawnMl, addedDiluentMl, lidocaineMl, injectedMl, discardedMl));
	}

	/** The preparations whose volume is known not to add up: data-quality items. */
	public List<RecordedPreparation> preparationsThatDoNotAddUp() {
		return this.preparations.stream()
			.filter((preparation) -> balanceOf(preparation).filter((balance) -> !balance.addsUp()).isPresent())
			.toList();
	}

	/**
	 * Lidocaine given with the injections, in milligrams; empty where the record does not
	 * say it of every injection.
	 */
	public Optional<BigDecimal> lidocaineGivenMg() {
		var given = BigDecimal.ZERO;
		for (var injection : this.injections) {
			var concentration = this.preparations.stream()
				.filter((preparation) -> preparation.id().equals(injection.preparation()))
				.findFirst()
				.flatMap(RecordedPreparation::lidocaineMgPerMl);
			if (concentration.isEmpty() || injection.volumeMl() == null) {
				return Optional.empty();
			}
			given = given.add(concentration.get().multiply(injection.volumeMl()));
		}
		return Optional.of(given);
	}

}
