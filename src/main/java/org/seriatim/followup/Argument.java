package org.seriatim.followup;

import java.time.LocalDate;

/**
 * A value that a sentence of an advice speaks of, kept apart from any language.
 *
 * @param kind how to write it
 * @param value ISO date, decimal number, message key of a word such as
 * {@code region.nose}, or text as it is
 */
public record Argument(Kind kind, String value) {

	/** How an argument is written. */
	public enum Kind {

		DAY, NUMBER, WORD, TEXT

	}

	public static Argument day(LocalDate day) {
		return new Argument(Kind.DAY, day.toString());
	}

	public static Argument number(int number) {
		return new Argument(Kind.NUMBER, Integer.toString(number));
	}

	public static Argument number(double number) {
		return new Argument(Kind.NUMBER, Double.toString(number));
	}

	/**
	 * A word of an enumeration.
	 * @param vocabulary first part of the message keys of its words
	 */
	public static Argument word(String vocabulary, String word) {
		return new Argument(Kind.WORD, vocabulary + "." + word);
	}

	public static Argument text(String text) {
		return new Argument(Kind.TEXT, text);
	}

}
