package org.seriatim.shell.web;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Set;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.seriatim.shell.StaleVersion;
import jakarta.servlet.http.HttpServletResponse;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.multipart.MaxUploadSizeExceededException;
import org.springframework.web.multipart.MultipartException;
import org.springframework.web.servlet.ModelAndView;

/**
 * What no form answers by itself. A write that came too late, because somebody else
 * changed the same thing in the meantime: the page gives back what was typed, so that
 * nothing has to be remembered. And a body whose parts cannot be told apart.
 */
@ControllerAdvice
class ErrorAdvice {

	private static final Logger log = LoggerFactory.getLogger(ErrorAdvice.class);

	/* Neither worth keeping nor fit to be shown. */
	private static final Set<String> NOT_TYPED = Set.of("_csrf", "version");

	private final NewerVersion newerVersion;

	ErrorAdvice(NewerVersion newerVersion) {
		this.newerVersion = newerVersion;
	}

	@ExceptionHandler(OptimisticLockingFailureException.class)
	ModelAndView changedMeanwhile(OptimisticLockingFailureException late, HttpServletRequest request,
			HttpServletResponse response) {
		var reference = Reference.of(request);
		log.info("Reference {}: {} answered 409", reference, request.getMethod());
		var newer = (late instanceof StaleVersion stale) ? stale.newer().orElse(null) : null;
		return this.newerVersion.beside(request, response, newer).orElseGet(() -> withWhatWasTyped(request, reference));
	}

	/**
	 * For what has no form any more: a draft that was settled, a row that was taken out.
	 */
	private static ModelAndView withWhatWasTyped(HttpServletRequest request, String reference) {
		var page = new ModelAndView("error/409", HttpStatus.CONFLICT);
		page.addObject("reference", reference);
		page.addObject("typed", typed(request));
		return page;
	}

	/* The sender's fault, which would else be taken for one of ours. */
	@ExceptionHandler(MultipartException.class)
	void unreadable(MultipartException ex, HttpServletResponse response) throws IOException {
		// the server answers by itself where even the transfer could not be read
		if (!response.isCommitted()) {
			response.sendError((ex instanceof MaxUploadSizeExceededException) ? HttpStatus.CONTENT_TOO_LARGE.value()
					: HttpStatus.BAD_REQUEST.value());
		}
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
