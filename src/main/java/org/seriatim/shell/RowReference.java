package org.seriatim.shell;

import java.lang.annotation.Documented;
import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/**
 * The component of a form's row that names a row of another list of the form by its
 * {@link RowKey}. Where that row gets another number, because two people gave the same
 * one to different rows, the reference follows.
 */
@Target({ ElementType.FIELD, ElementType.RECORD_COMPONENT })
@Retention(RetentionPolicy.RUNTIME)
@Documented
public @interface RowReference {

	/** The form's component that holds the list. */
	String value();

}
