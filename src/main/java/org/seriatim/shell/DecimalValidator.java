package org.seriatim.shell;

import java.math.BigDecimal;

import jakarta.validation.ConstraintValidator;
import jakarta.validation.ConstraintValidatorContext;
import org.jspecify.annotations.Nullable;

/** Checks {@link Decimal}. */
public final class DecimalValidator implements ConstraintValidator<Decimal, String> {

	private BigDecimal min = BigDecimal.ZERO;

	private BigDecimal max = BigDecimal.ZERO;

	private int fraction;

	private String message = "";

	@Override
	public void initialize(Decimal decimal) {
		this.min = new BigDecimal(decimal.min());
		this.max = new BigDecimal(decimal.max());
		this.fraction = decimal.fraction();
		this.message = decimal.message();
		if (this.message.equals("{shell.decimal}")) {
			var kind = (this.fraction == 0) ? "whole" : (this.fraction == 1) ? "one-decimal" : "decimals";
			this.message = "{shell.decimal." + kind + (decimal.unit().isEmpty() ? "}" : ".unit}");
		}
	}

	@Override
	public boolean isValid(@Nullable String text, ConstraintValidatorContext context) {
		if (text == null || text.isBlank()) {
			return true;
		}
		var valid = DecimalText.read(text)
			.filter((value) -> value.scale() <= this.fraction && value.compareTo(this.min) >= 0
					&& value.compareTo(this.max) <= 0)
			.isPresent();
		if (!valid) {
			context.disableDefaultConstraintViolation();
			context.buildConstraintViolationWithTemplate(this.message).addConstraintViolation();
		}
		return valid;
	}

}
