package org.seriatim.appointment.domain;

import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * Words that tell something of a patient's health and so must not stand in a mail that
 * others may read: what is treated, what is done, what was found, and where. The list is
 * a help against slips; that a text says nothing of the kind is for the clinic to see to.
 */
public final class HealthWords {

	/** In the order in which a page names them. */
	public static final List<String> LIST = List.of("treatment", "treat", "therapy", "session", "series", "injection",
			"inject", "needle", "needling", "numbing", "cream", "filler", "biostimulator", "laser", "radiofrequency",
			"scar", "scarring", "acne", "pore", "skin", "face", "lump", "nodule", "swelling", "pain", "finding",
			"diagnosis", "result", "assessment", "photograph", "photo", "dermatology", "aesthetic", "cosmetic",
			"medicine", "surgery");

	private static final Pattern ANY = Pattern.compile(
			"\\b(" + String.join("|", LIST) + ")(s|es|ed|ing|ment|ments)?\\b",
			Pattern.CASE_INSENSITIVE | Pattern.UNICODE_CASE | Pattern.UNICODE_CHARACTER_CLASS);

	private HealthWords() {
	}

	/** The first of them in a text, as it stands there. */
	public static Optional<String> firstIn(String text) {
		var found = ANY.matcher(text);
		return found.find() ? Optional.of(found.group()) : Optional.empty();
	}

}
