package org.seriatim.access.web;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpSession;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.UnsentForm;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.security.web.savedrequest.HttpSessionRequestCache;
import org.springframework.security.web.savedrequest.RequestCache;
import org.springframework.security.web.savedrequest.SavedRequest;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;
import org.springframework.web.util.ServletRequestPathUtils;

/**
 * What was asked for before a sign-in and is taken up after it: the address of a page, or
 * a form with all that was typed. A form lies in the HTTP session of its browser, for the
 * account on whose page it was filled in, until that account takes it back, another one
 * signs in, or the session expires.
 */
class KeptForms implements RequestCache {

	private static final String ATTRIBUTE = "keptForm";

	/** Forms of the service itself, which no page has to give back. */
	private static final Set<String> OF_THE_PAGE = Set.of("_csrf", FormOwner.FIELD, UnsentForm.MARK);

	/** Here people type passwords and codes, which are kept nowhere. */
	private static final String SECRET = "/(password|confirm|sign-in|sign-out|set-up|invitation|account)(/.*)?";

	private static final int MOST_CHARACTERS = 500_000;

	private static final String PAGE = "keptPage";

	private final HttpSessionRequestCache pages = new HttpSessionRequestCache();

	private final FormOwner owner;

	private final RequestMappingHandlerMapping handlers;

	KeptForms(FormOwner owner, RequestMappingHandlerMapping handlers) {
		this.owner = owner;
		this.handlers = handlers;
		this.pages.setSessionAttrName(PAGE);
		this.pages.setRequestMatcher((request) -> request.getMethod().equals(HttpMethod.GET.name())
				&& request.getHeader("HX-Request") == null && !RequestPath.of(request).matches("/stay|/kept-form"));
	}

	@Override
	public void saveRequest(HttpServletRequest request, HttpServletResponse response) {
		if (request.getMethod().equals(HttpMethod.POST.name())) {
			ownerOf(request).ifPresent((account) -> keep(request, account, false));
		}
		else {
			HttpSession session = request.getSession(false);
			if (session != null && session.getAttribute(ATTRIBUTE) instanceof KeptForm form && form.deliberate()) {
				session.removeAttribute(ATTRIBUTE);
			}
			this.pages.saveRequest(request, response);
		}
	}

	/**
	 * Keeps the form of a person who is signed in and has yet to confirm who they are.
	 */
	void keepDeliberate(HttpServletRequest request, UUID account) {
		keep(request, account, true);
	}

	/** Whose form it is, if it could be kept. */
	Optional<UUID> ownerOf(HttpServletRequest request) {
		return isPlainForm(request) ? this.owner.of(request) : Optional.empty();
	}

	private void keep(HttpServletRequest request, UUID account, boolean deliberate) {
		if (!isPlainForm(request) || RequestPath.of(request).matches(SECRET)) {
			return;
		}
		var values = new LinkedHashMap<String, List<String>>();
		request.getParameterMap().forEach((name, value) -> {
			if (!OF_THE_PAGE.contains(name)) {
				values.put(name, new ArrayList<>(List.of(value)));
			}
		});
		if (isSmall(values)) {
			request.getSession()
				.setAttribute(ATTRIBUTE,
						new KeptForm(account, RequestPath.of(request), values, deliberate, isShownAgain(request)));
			request.getSession().removeAttribute(PAGE);
		}
	}

	/* What a type says that is none is nobody's form. */
	private static boolean isPlainForm(HttpServletRequest request) {
		String type = request.getContentType();
		return type == null || type.toLowerCase(Locale.ROOT).startsWith(MediaType.APPLICATION_FORM_URLENCODED_VALUE);
	}

	private static boolean isSmall(Map<String, List<String>> values) {
		return values.values().stream().flatMap(List::stream).mapToLong(String::length).sum() <= MOST_CHARACTERS;
	}

	private boolean isShownAgain(HttpServletRequest request) {
		try {
			ServletRequestPathUtils.parseAndCache(request);
			var chain = this.handlers.getHandler(request);
			return chain != null && chain.getHandler() instanceof HandlerMethod handler
					&& UnsentForm.isShownBy(handler);
		}
		catch (Exception ex) {
			return false;
		}
	}

	/** The form kept for the account; another account's is thrown away. */
	Optional<KeptForm> of(UUID account, HttpServletRequest request) {
		HttpSession session = request.getSession(false);
		if (session == null || !(session.getAttribute(ATTRIBUTE) instanceof KeptForm form)) {
			return Optional.empty();
		}
		if (!form.account().equals(account)) {
			session.removeAttribute(ATTRIBUTE);
			session.removeAttribute(PAGE);
			return Optional.empty();
		}
		return Optional.of(form);
	}

	/** Whether something typed waits for its owner to sign in. */
	boolean waits(HttpServletRequest request) {
		HttpSession session = request.getSession(false);
		return session != null && session.getAttribute(ATTRIBUTE) != null;
	}

	@Override
	public @Nullable SavedRequest getRequest(HttpServletRequest request, HttpServletResponse response) {
		return this.pages.getRequest(request, response);
	}

	/** A form that arrives again is no longer kept. */
	@Override
	public @Nullable HttpServletRequest getMatchingRequest(HttpServletRequest request, HttpServletResponse response) {
		HttpSession session = request.getSession(false);
		if (session != null && request.getMethod().equals(HttpMethod.POST.name())
				&& session.getAttribute(ATTRIBUTE) instanceof KeptForm form
				&& form.address().equals(RequestPath.of(request))) {
			session.removeAttribute(ATTRIBUTE);
		}
		return this.pages.getMatchingRequest(request, response);
	}

	@Override
	public void removeRequest(HttpServletRequest request, HttpServletResponse response) {
		this.pages.removeRequest(request, response);
	}

}
