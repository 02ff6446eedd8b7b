package org.seriatim.shell;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/**
 * How pages write days and figures, the same everywhere: 12 Oct 2026, 0.62, −4.0. Files
 * are another matter; they keep ISO dates and unrounded numbers.
 */
public final class Written {

	private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMM uuuu", Locale.ENGLISH);

	private static final DateTimeFormatter WEEKDAY = DateTimeFormatter.ofPattern("EEE", Locale.ENGLISH);

	private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("d MMM uuuu, HH:mm", Locale.ENGLISH);

	private static final char MINUS = '\u2212';

	private Written() {
	}

	/** 12 Oct 2026. */
	public static String day(LocalDate day) {
		return DAY.format(day);
	}

	/** Mon 12 Oct 2026, where somebody is to be booked. */
	public static String weekday(LocalDate day) {
		return WEEKDAY.format(day) + " " + day(day);
	}

	/** 12 Oct 2026, 14:30. */
	public static String time(Instant time, ZoneId zone) {
		return TIME.format(time.atZone(zone));
	}

	/**
	 * A figure rounded half up, with a true minus sign.
	 * @param decimals digits after the decimal point, all of them written
	 */
	public static String number(BigDecimal value, int decimals) {
		var rounded = value.setScale(decimals, RoundingMode.HALF_UP);
		var digits = rounded.abs().toPlainString();
		return (rounded.signum() < 0) ? MINUS + digits : digits;
	}

	/**
	 * A figure rounded half up, with a true minus sign.
	 * @param decimals digits after the decimal point, all of them written
	 */
	public static String number(double value, int decimals) {
		return number(BigDecimal.valueOf(value), decimals);
	}

	/** A change: the same with a plus sign above 0. */
	public static String signed(double value, int decimals) {
		var written = number(value, decimals);
		var positive = written.charAt(0) != MINUS && !written.chars().allMatch((digit) -> digit == '0' || digit == '.');
		return positive ? "+" + written : written;
	}

}
