package org.seriatim.assessment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** The eighteen regions; left and right are the patient's. */
public enum Region {

	FOREHEAD, GLABELLA, TEMPLE_LEFT, TEMPLE_RIGHT, PERIORBITAL_LEFT, PERIORBITAL_RIGHT, NOSE, CHEEK_MEDIAL_LEFT,
	CHEEK_MEDIAL_RIGHT, CHEEK_LATERAL_LEFT, CHEEK_LATERAL_RIGHT, NASOLABIAL_LEFT, NASOLABIAL_RIGHT, PERIORAL, CHIN,
	JAWLINE_LEFT, JAWLINE_RIGHT, NECK;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** Whether it counts towards scores of the face; the neck does not. */
	public boolean isOfFace() {
		return this != NECK;
	}

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
