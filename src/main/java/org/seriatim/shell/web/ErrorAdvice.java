package org.seriatim.shell.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Set;

import jakarta.servlet.http.HttpServletRequest;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.servlet.ModelAndView;

/**
 * A write that came too late: somebody else changed the same thing in the meantime. The
 * page gives back what was typed, so that nothing has to be remembered.
 */
@ControllerAdvice
class ErrorAdvice {

	private static final Logger log = LoggerFactory.getLogger(ErrorAdvice.class);

	/* Neither worth keeping nor fit to be shown. */
	private static final Set<String> NOT_TYPED = Set.of("_csrf", "version");

	@ExceptionHandler(OptimisticLockingFailureException.class)
	ModelAndView changedMeanwhile(HttpServletRequest request) {
		var reference = Reference.of(request);
		log.info("Reference {}: {} answered 409", reference, request.getMethod());
		var page = new ModelAndView("error/409", HttpStatus.CONFLICT);
		page.addObject("reference", reference);
		page.addObject("typed", typed(request));
		return page;
	}

	private static List<Entry> typed(HttpServletRequest request) {
		var entries = new ArrayList<Entry>();
		request.getParameterMap().forEach((name, values) -> {
			var lower = name.toLowerCase(Locale.ROOT);
			if (!NOT_TYPED.contains(name) && !name.startsWith("_") && !lower.contains("password")) {
				Arrays.stream(values)
					.filter((value) -> !value.isBlank())
					.forEach((value) -> entries.add(new Entry(new FieldName(name).words(), value)));
			}
		});
		return entries;
	}

	/**
	 * One thing that was typed.
	 *
	 * @param name the field, in words
	 * @param value what was typed
	 */
	record Entry(String name, String value) {
	}

}
