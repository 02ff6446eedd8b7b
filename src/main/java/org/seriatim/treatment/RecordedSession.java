package org.seriatim.treatment;

import java.math.BigDecimal;
import java.time.LocalDate;
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
 */
public record RecordedSession(SessionId id, PatientId patient, SeriesId series, int number, LocalDate treatedOn,
		StaffId practitioner, @Nullable BigDecimal weightKg, @Nullable Combination combination,
		@Nullable BigDecimal rfDepthMm, @Nullable Integer topicalMinutes, @Nullable Boolean oralAnalgesic,
		@Nullable Boolean vibration, @Nullable Integer painNrs, @Nullable Boolean massage,
		List<RecordedPreparation> preparations, List<RecordedInjection> injections) {

	public RecordedSession {
		preparations = List.copyOf(preparations);
		injections = List.copyOf(injections);
	}

	/** As far as later decisions look back at it. */
	public SessionFacts facts() {
		return new SessionFacts(this.id, this.series, this.number, this.treatedOn, this.painNrs,
				this.injections.stream().map(RecordedInjection::facts).toList());
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
		if (!everyVolumeIsKnown || preparation.stockDrawnMl() == null || preparation.addedDiluentMl() == null
				|| preparation.lidocaineMl() == null || preparation.discardedMl() == null) {
			return Optional.empty();
		}
		return Optional.of(VolumeBalance.of(preparation.stockDrawnMl(), preparation.addedDiluentMl(),
				preparation.lidocaineMl(), injected, preparation.discardedMl()));
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
