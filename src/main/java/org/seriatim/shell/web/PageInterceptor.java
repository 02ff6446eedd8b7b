package org.seriatim.shell.web;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.UnsentForm;
import org.springframework.context.MessageSource;
import org.springframework.http.HttpHeaders;
import org.springframework.stereotype.Component;
import org.springframework.validation.BindingResult;
import org.springframework.validation.FieldError;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.HandlerInterceptor;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.support.RequestContextUtils;
import org.springframework.web.servlet.view.UrlBasedViewResolver;

/**
 * Gives every page the list of what is wrong with its form, in the order of the fields,
 * and tells caches that a page and its htmx fragment share one address.
 */
@Component
class PageInterceptor implements HandlerInterceptor {

	/**
	 * The code of a form that was put together from two versions and is not saved yet.
	 */
	static final String LOOK_FIRST = "shell.both.look-first";

	private final MessageSource messages;

	PageInterceptor(MessageSource messages) {
		this.messages = messages;
	}

	@Override
	public boolean preHandle(HttpServletRequest request, HttpServletResponse response, Object handler)
			throws IOException {
		if (handler instanceof HandlerMethod method) {
			response.addHeader(HttpHeaders.VARY, "HX-Request");
			if (UnsentForm.is(request) && !UnsentForm.isShownBy(method)) {
				// it would be done, and nobody has asked for it
				response.sendRedirect(request.getContextPath() + "/");
				return false;
			}
		}
		return true;
	}

	@Override
	public void postHandle(HttpServletRequest request, HttpServletResponse response, Object handler,
			@Nullable ModelAndView page) {
		if (page == null || !isPage(page)) {
			return;
		}
		var locale = RequestContextUtils.getLocale(request);
		var problems = page.getModel()
			.values()
			.stream()
			.filter(BindingResult.class::isInstance)
			.map(BindingResult.class::cast)
			.flatMap((errors) -> problems(errors, locale).stream())
			.toList();
		if (!problems.isEmpty()) {
			page.addObject("problems", problems);
		}
		if (VersionsInForms.sent(request, VersionsInForms.LOOK_FIRST) != null) {
			page.addObject("lookFirst", true);
		}
	}

	/**
	 * Whether a page is shown. What is added to a redirect ends up in its address, where
	 * nothing of a record belongs, and a long form is too long for it.
	 */
	static boolean isPage(ModelAndView page) {
		var view = page.getViewName();
		return page.hasView() && (view == null || !view.startsWith(UrlBasedViewResolver.REDIRECT_URL_PREFIX));
	}

	private List<Problem> problems(BindingResult errors, Locale locale) {
		var order = fieldOrder(errors);
		var ofField = new LinkedHashMap<String, Problem>();
		errors.getFieldErrors()
			.stream()
			.sorted(Comparator.comparing(
					(FieldError error) -> order.getOrDefault(new FieldName(error.getField()).component(), order.size()))
				.thenComparing((error) -> new FieldName(error.getField()).sortable()))
			.forEach((error) -> ofField.putIfAbsent(error.getField(), problem(error, locale)));
		var problems = new ArrayList<>(ofField.values());
		errors.getGlobalErrors()
			.stream()
			.filter((error) -> !LOOK_FIRST.equals(error.getCode()))
			.forEach((error) -> problems.add(new Problem(null, null, this.messages.getMessage(error, locale))));
		return problems;
	}

	private Problem problem(FieldError error, Locale locale) {
		var field = new FieldName(error.getField());
		var label = new StringBuilder(String
			.valueOf(this.messages.getMessage("field." + field.withoutIndexes(), null, field.words(), locale)));
		field.lines()
			.forEach((line) -> label
				.append(this.messages.getMessage("shell.errors.line", new Object[] { line }, locale)));
		return new Problem(field.id(), label.toString(), this.messages.getMessage(error, locale));
	}

	/*
	 * A binding result keeps errors in no order of its own; a form's record components
	 * stand in the order of its fields.
	 */
	private static Map<String, Integer> fieldOrder(BindingResult errors) {
		var order = new LinkedHashMap<String, Integer>();
		if (errors.getTarget() != null && errors.getTarget().getClass().isRecord()) {
			Arrays.stream(errors.getTarget().getClass().getRecordComponents())
				.forEach((component) -> order.put(component.getName(), order.size()));
		}
		return order;
	}

	/**
	 * One thing to mend in a form.
	 *
	 * @param field id of the field, or {@code null} if it concerns the form as a whole
	 * @param label what the field is called: the message {@code field.path}, or else the
	 * name of the form's component in words
	 * @param text what to mend
	 */
	record Problem(@Nullable String field, @Nullable String label, String text) {
	}

}
