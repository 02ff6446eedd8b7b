package org.seriatim.shell;

import java.math.BigDecimal;
import java.util.Optional;
import java.util.regex.Pattern;

import org.jspecify.annotations.Nullable;

/** Reads decimal numbers as people type them. */
public final class DecimalText {

	/*
	 * A comma is taken as the decimal mark that it is on many keyboards, except before
	 * exactly three digits: "1,000" may mean one or a thousand, and a volume must not be
	 * guessed.
	 */
	private static final Pattern NUMBER = Pattern
		.compile("(?<sign>[+\\-\u2212]?)(?<whole>\\d{1,12})(?:(?:\\.|,(?!\\d{3}$))(?<fraction>\\d{1,12}))?");

	private DecimalText() {
	}

	/**
	 * The number that was typed, with the decimals that were typed.
	 * @param text what was typed; {@code null} or blank if nothing was
	 * @return the number, or {@code null} if nothing was typed
	 * @throws IllegalArgumentException if the text is not a number
	 */
	public static @Nullable BigDecimal value(@Nullable String text) {
		if (text == null || text.isBlank()) {
			return null;
		}
		return read(text).orElseThrow(() -> new IllegalArgumentException("text must be a decimal number"));
	}

	/**
	 * The whole number that was typed.
	 * @param text what was typed; {@code null} or blank if nothing was
	 * @return the number, or {@code null} if nothing was typed
	 * @throws IllegalArgumentException if the text is not a number
	 * @throws ArithmeticException if the number has decimals or does not fit
	 */
	public static @Nullable Integer whole(@Nullable String text) {
		var value = value(text);
		return (value != null) ? value.intValueExact() : null;
	}

	/** A stored number as it goes back into a form field. */
	public static @Nullable String of(@Nullable BigDecimal value) {
		return (value != null) ? value.toPlainString() : null;
	}

	/** A stored whole number as it goes back into a form field. */
	public static @Nullable String of(@Nullable Integer value) {
		return (value != null) ? value.toString() : null;
	}

	static Optional<BigDecimal> read(String text) {
		var number = NUMBER.matcher(text.strip());
		if (!number.matches()) {
			return Optional.empty();
		}
		var fraction = number.group("fraction");
		var value = new BigDecimal(number.group("whole") + ((fraction != null) ? "." + fraction : ""));
		return Optional.of(number.group("sign").matches("[\\-\u2212]") ? value.negate() : value);
	}

}
