package org.seriatim.shell;

import java.lang.annotation.Documented;
import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/**
 * The component of a form's row that says which row it is, whatever its place: the number
 * of an injection, the scar that a line is about. Typed by nobody. Two versions of a form
 * are compared row by row with it.
 */
@Target({ ElementType.FIELD, ElementType.RECORD_COMPONENT })
@Retention(RetentionPolicy.RUNTIME)
@Documented
public @interface RowKey {

}
