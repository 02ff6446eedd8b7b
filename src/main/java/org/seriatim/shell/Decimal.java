package org.seriatim.shell;

import java.lang.annotation.Documented;
import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

import jakarta.validation.Constraint;
import jakarta.validation.Payload;

/**
 * A number as a person types it, kept as text so that a refused entry comes back exactly
 * as it was typed. Nothing typed is valid; say {@code @NotNull} beside it where a value
 * is needed. Any fault (no number, out of range, too many decimals) has the same one
 * message, which names the range. Convert with {@link DecimalText#value(String)}.
 */
@Documented
@Constraint(validatedBy = DecimalValidator.class)
@Target({ ElementType.FIELD, ElementType.PARAMETER, ElementType.RECORD_COMPONENT, ElementType.TYPE_USE })
@Retention(RetentionPolicy.RUNTIME)
public @interface Decimal {

	/** Smallest value that is accepted. */
	String min();

	/** Largest value that is accepted. */
	String max();

	/** Largest number of digits after the decimal point; 0 asks for a whole number. */
	int fraction() default 0;

	/** Unit named in the message, for example {@code mm}. */
	String unit() default "";

	String message() default "{shell.decimal}";

	Class<?>[] groups() default {};

	Class<? extends Payload>[] payload() default {};

}
