package org.seriatim.shell.web;

import java.time.Clock;
import java.util.Map;
import java.util.Optional;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.shell.Written;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.beans.propertyeditors.StringTrimmerEditor;
import org.springframework.context.MessageSource;
import org.springframework.core.ResolvableType;
import org.springframework.core.convert.ConversionService;
import org.springframework.http.HttpMethod;
import org.springframework.http.HttpStatus;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.access.WebInvocationPrivilegeEvaluator;
import org.springframework.stereotype.Component;
import org.springframework.web.bind.ServletRequestDataBinder;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerAdapter;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;
import org.springframework.web.servlet.support.RequestContextUtils;

/**
 * Answers a form that came too late with what is stored now beside what was typed. What
 * is stored is what the page of the form would show if it were opened at this moment: the
 * handler of the same address is asked, so that no form needs a second reader.
 */
@Component
class NewerVersion {

	private static final Logger log = LoggerFactory.getLogger(NewerVersion.class);

	private static final String FORM = "form";

	private final ObjectProvider<RequestMappingHandlerMapping> handlers;

	private final ObjectProvider<RequestMappingHandlerAdapter> adapter;

	private final ObjectProvider<WebInvocationPrivilegeEvaluator> rules;

	private final ObjectProvider<ConversionService> conversion;

	private final StaffDirectory staff;

	private final MessageSource messages;

	private final Clock clock;

	NewerVersion(@Qualifier("requestMappingHandlerMapping") ObjectProvider<RequestMappingHandlerMapping> handlers,
			ObjectProvider<RequestMappingHandlerAdapter> adapter, ObjectProvider<WebInvocationPrivilegeEvaluator> rules,
			@Qualifier("mvcConversionService") ObjectProvider<ConversionService> conversion, StaffDirectory staff,
			MessageSource messages, Clock clock) {
		this.handlers = handlers;
		this.adapter = adapter;
		this.rules = rules;
		this.conversion = conversion;
		this.staff = staff;
		this.messages = messages;
		this.clock = clock;
	}

	/**
	 * The page with both versions.
	 * @param newer who saved the newer version and when, where that is known
	 * @return empty if the address shows no form any more, or never did
	 */
	Optional<ModelAndView> beside(HttpServletRequest request, HttpServletResponse response, @Nullable Recorded newer) {
		var opened = opened(request, response);
		if (opened == null || !(opened.getModel().get(FORM) instanceof Record stored)
				|| !FormContent.isVersioned(stored) || !(typed(request, stored.getClass()) instanceof Record sent)) {
			return Optional.empty();
		}
		var now = FormContent.of(stored);
		var words = new Merger.Words(this.messages, RequestContextUtils.getLocale(request), opened.getModel());
		var shown = FormContent.Fingerprints.read(request.getParameter(VersionsInForms.SHOWN));
		var both = new Merger(now, FormContent.of(sent), shown, words).merged();
		var page = new ModelAndView("shell/both-versions", HttpStatus.CONFLICT);
		page.addAllObjects(Map.of("both", both, "address", address(request), "versionField", now.version(),
				"versionNow", version(stored, now), "shown", now.fingerprints().written()));
		if (newer != null) {
			page.addObject("savedAt", Written.time(newer.recordedAt(), this.clock.getZone()));
			page.addObject("savedBy", name(newer.recordedBy()));
		}
		return Optional.of(page);
	}

	private @Nullable String name(@Nullable StaffId by) {
		return (by != null) ? this.staff.byId(by).map(StaffMember::name).orElse(null) : null;
	}

	private static String version(Record form, FormContent content) {
		return String.valueOf(FormContent.version(form, content));
	}

	private static String address(HttpServletRequest request) {
		var query = request.getQueryString();
		return request.getRequestURI().substring(request.getContextPath().length())
				+ ((query != null) ? "?" + query : "");
	}

	/** The page of the form as it would be if it were opened now. */
	private @Nullable ModelAndView opened(HttpServletRequest request, HttpServletResponse response) {
		var path = request.getRequestURI().substring(request.getContextPath().length());
		var evaluator = this.rules.getIfAvailable();
		if (evaluator != null && !evaluator.isAllowed(request.getContextPath(), path, HttpMethod.GET.name(),
				SecurityContextHolder.getContext().getAuthentication())) {
			return null;
		}
		try {
			var opening = new Opening(request);
			var handler = this.handlers.getObject().getHandler(opening);
			return (handler != null && handler.getHandler() instanceof HandlerMethod method)
					? this.adapter.getObject().handle(opening, response, method) : null;
		}
		catch (Exception ex) {
			log.info("Reference {}: the form cannot be opened any more ({})", Reference.of(request),
					ex.getClass().getSimpleName());
			return null;
		}
	}

	private @Nullable Object typed(HttpServletRequest request, Class<?> form) {
		var binder = new ServletRequestDataBinder(null, FORM);
		binder.setTargetType(ResolvableType.forClass(form));
		binder.setConversionService(this.conversion.getObject());
		binder.setAutoGrowCollectionLimit(BindingAdvice.MOST_LINES);
		binder.registerCustomEditor(String.class, new StringTrimmerEditor(true));
		binder.construct(request);
		return binder.getBindingResult().hasErrors() ? null : binder.getTarget();
	}

	/** The same address, opened instead of sent: without what was typed. */
	private static final class Opening extends HttpServletRequestWrapper {

		Opening(HttpServletRequest sent) {
			super(sent);
		}

		@Override
		public String getMethod() {
			return HttpMethod.GET.name();
		}

		@Override
		public @Nullable String getHeader(String name) {
			return name.equalsIgnoreCase("HX-Request") ? null : super.getHeader(name);
		}

		@Override
		public @Nullable String getParameter(String name) {
			var values = getParameterValues(name);
			return (values != null && values.length > 0) ? values[0] : null;
		}

		@Override
		public String @Nullable [] getParameterValues(String name) {
			return getParameterMap().get(name);
		}

		@Override
		public Map<String, String[]> getParameterMap() {
			return QueryParameters.of(getQueryString());
		}

		@Override
		public java.util.Enumeration<String> getParameterNames() {
			return java.util.Collections.enumeration(getParameterMap().keySet());
		}

	}

}
