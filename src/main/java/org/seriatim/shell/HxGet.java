package org.seriatim.shell;

import java.lang.annotation.Documented;
import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

import org.springframework.core.annotation.AliasFor;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestMethod;

/**
 * The twin of a page's GET method that answers htmx with a fragment of the same template.
 * Boosted requests and those that restore the history need the whole page and so do not
 * arrive here.
 */
@Documented
@Target(ElementType.METHOD)
@Retention(RetentionPolicy.RUNTIME)
@RequestMapping(method = RequestMethod.GET,
		headers = { "HX-Request=true", "!HX-Boosted", "!HX-History-Restore-Request" })
public @interface HxGet {

	/** The paths, as in {@link RequestMapping#path()}. */
	@AliasFor(annotation = RequestMapping.class, attribute = "path")
	String[] value() default {};

}
