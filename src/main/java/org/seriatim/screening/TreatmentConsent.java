package org.seriatim.screening;

import java.time.LocalDate;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;

/**
 * A consent to treatment.
 *
 * @param documentReference where the signed document is
 * @param withdrawnOn {@code null} while it stands
 * @param recorded by whom; of a withdrawn one, who recorded the withdrawal and why
 */
public record TreatmentConsent(UUID id, LocalDate givenOn, String documentReference, @Nullable LocalDate withdrawnOn,
		Recorded recorded, Long version) {

	/** Whether it stands on that day; it does not on the day of its withdrawal. */
	public boolean isInForceOn(LocalDate day) {
		return !this.givenOn.isAfter(day) && (this.withdrawnOn == null || day.isBefore(this.withdrawnOn));
	}

	/** Prints no content of the record. */
	@Override
	public String toString() {
		return "Consent " + this.id;
	}

}
