package org.seriatim.shell.web;

import jakarta.servlet.DispatcherType;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.HandlerInterceptor;
import org.springframework.web.servlet.ModelAndView;

/**
 * Lets a form carry marks of the values that it was filled from, however often it is sent
 * back for something to be mended: so that, when somebody else was faster, a page can
 * tell who changed what.
 */
@Component
class VersionsInForms implements HandlerInterceptor {

	/** The parameter that brings the marks back. */
	static final String SHOWN = "_shown";

	/**
	 * The parameter of a form put together from two versions, which is looked at first.
	 */
	static final String LOOK_FIRST = "_look";

	@Override
	public void postHandle(HttpServletRequest request, HttpServletResponse response, Object handler,
			@Nullable ModelAndView page) {
		if (page == null || !PageInterceptor.isPage(page) || page.getModel().containsKey("shown")) {
			return;
		}
		var sent = sent(request, SHOWN);
		if (sent != null) {
			page.addObject("shown", sent);
		}
		else if (page.getModel().get("form") instanceof Record form && FormContent.isVersioned(form)) {
			page.addObject("shown", FormContent.of(form).fingerprints().written());
		}
	}

	/**
	 * What a form sent. An error page has nothing to ask: it must not read a body that
	 * was refused.
	 */
	static @Nullable String sent(HttpServletRequest request, String parameter) {
		return (request.getDispatcherType() == DispatcherType.REQUEST) ? request.getParameter(parameter) : null;
	}

}
