package org.seriatim.treatment.web;

import java.math.BigDecimal;

import org.jspecify.annotations.Nullable;
import org.seriatim.shell.DecimalText;

/**
 * Reads what is typed while it is still being typed: what cannot be read yet is unknown,
 * and so is a negative amount.
 */
final class Typed {

	private Typed() {
	}

	static @Nullable BigDecimal decimal(@Nullable String text) {
		try {
			var value = DecimalText.value(text);
			return (value == null || value.signum() < 0) ? null : value;
		}
		catch (IllegalArgumentException ex) {
			return null;
		}
	}

	static @Nullable Integer whole(@Nullable String text) {
		try {
			var value = decimal(text);
			return (value != null) ? value.intValueExact() : null;
		}
		catch (ArithmeticException ex) {
			return null;
		}
	}

}
