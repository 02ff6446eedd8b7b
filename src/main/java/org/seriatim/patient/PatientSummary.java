package org.seriatim.patient;

import java.time.LocalDate;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;

/**
 * A patient's identity, contact and skin profile as they are now. What nobody entered is
 * {@code null}. The skin profile is not for the front desk.
 *
 * @param recordNumber the clinic's own identifier, unique and never reused
 * @param phototype 1 to 6, by sun reaction (Fitzpatrick 1988)
 */
public record PatientSummary(PatientId id, String recordNumber, @Nullable String familyName, @Nullable String givenName,
		@Nullable LocalDate birthDate, @Nullable Sex sex, @Nullable Integer phototype,
		@Nullable SkinThickness skinThickness, @Nullable Sebum sebum, @Nullable String phone, @Nullable String email) {

	/**
	 * How a page calls the patient: family name, given name; the record number where no
	 * name was entered.
	 */
	public String displayName() {
		var name = Stream.of(this.familyName, this.givenName)
			.filter(Objects::nonNull)
			.collect(Collectors.joining(", "));
		return name.isEmpty() ? this.recordNumber : name;
	}

	/** Prints no content of the record. */
	@Override
	public String toString() {
		return "Patient " + this.id;
	}

}
