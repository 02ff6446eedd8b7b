package org.seriatim.patient.domain;

import java.time.LocalDate;

import jakarta.persistence.Embeddable;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import org.jspecify.annotations.Nullable;
import org.seriatim.patient.Sex;

/**
 * Who the patient is.
 *
 * @param recordNumber the clinic's own identifier, without space at either end
 */
@Embeddable
public record Identity(String recordNumber, @Nullable String familyName, @Nullable String givenName,
		@Nullable LocalDate birthDate, @Enumerated(EnumType.STRING) @Nullable Sex sex) {

	public Identity {
		if (recordNumber.isEmpty() || !recordNumber.equals(recordNumber.strip())) {
			throw new IllegalArgumentException("record number must have text and no space at either end");
		}
	}

}
