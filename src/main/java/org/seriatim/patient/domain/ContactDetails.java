package org.seriatim.patient.domain;

import jakarta.persistence.Embeddable;
import org.jspecify.annotations.Nullable;

/** How the patient is reached. */
@Embeddable
public record ContactDetails(@Nullable String phone, @Nullable String email) {

	static final ContactDetails NONE = new ContactDetails(null, null);

}
