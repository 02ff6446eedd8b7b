package org.seriatim.screening;

import java.time.LocalDate;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;

/**
 * An answer on record.
 *
 * @param confirmedBy the licensed clinician who gave it or took it over; {@code null}
 * leaves it a draft
 * @param note names of medicines, or what was said with it
 * @param lastDoseOn of oral isotretinoin
 */
public record GivenAnswer(UUID id, AskedItem item, LocalDate askedOn, Answer answer, StaffId askedBy,
		@Nullable StaffId confirmedBy, @Nullable String note, @Nullable LocalDate lastDoseOn, Long version) {

	public boolean isDraft() {
		return this.confirmedBy == null;
	}

	/** Prints no content of the record. */
	@Override
	public String toString() {
		return "Answer " + this.id;
	}

}
