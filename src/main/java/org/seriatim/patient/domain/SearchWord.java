package org.seriatim.patient.domain;

import java.util.Arrays;
import java.util.List;

/**
 * One word that was typed to find a patient.
 *
 * @param text lower case, without accents, letters and digits only
 */
record SearchWord(String text) {

	/**
	 * @param plain what was typed, in lower case and without accents
	 */
	static List<SearchWord> in(String plain) {
		return Arrays.stream(plain.split("[^\\p{L}\\p{M}\\p{N}]+"))
			.filter((word) -> !word.isEmpty())
			.distinct()
			.map(SearchWord::new)
			.toList();
	}

	/** A regular expression of PostgreSQL for the word from its beginning to its end. */
	String whole() {
		return beginning() + "\\M";
	}

	/**
	 * A regular expression of PostgreSQL for a word that begins so. Of a number the
	 * leading zeros need not be typed.
	 */
	String beginning() {
		return "\\m" + (this.text.matches("\\p{N}+") ? "0*" : "") + this.text;
	}

}
