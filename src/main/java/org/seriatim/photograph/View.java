package org.seriatim.photograph;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/**
 * From where a photograph is taken: the five standard views of the face, and a close view
 * of a region or a scar (Nair et al. 2016, J Cutan Aesthet Surg 9, 115-121). Left and
 * right are the patient's: the left oblique shows the left cheek.
 */
public enum View {

	FRONT, OBLIQUE_LEFT, OBLIQUE_RIGHT, LATERAL_LEFT, LATERAL_RIGHT, CLOSE;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** The word in the database and in addresses. */
	public String word() {
		return this.word;
	}

}
