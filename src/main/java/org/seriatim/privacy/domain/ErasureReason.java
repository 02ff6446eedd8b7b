package org.seriatim.privacy.domain;

import java.util.Locale;

/** Why a record is erased. */
public enum ErasureReason {

	PATIENT_REQUEST, CONSENT_WITHDRAWN, RETENTION_ENDED, ENTERED_IN_ERROR, COURT_ORDER;

	/** The word in the database. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

}
