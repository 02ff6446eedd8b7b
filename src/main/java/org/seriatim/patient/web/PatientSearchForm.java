package org.seriatim.patient.web;

import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/** What somebody remembers of a patient. */
record PatientSearchForm(@Size(max = 100) @Nullable String who) {

	static PatientSearchForm empty() {
		return new PatientSearchForm(null);
	}

}
