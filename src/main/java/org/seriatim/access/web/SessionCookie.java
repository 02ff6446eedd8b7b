package org.seriatim.access.web;

import java.util.List;

import jakarta.servlet.http.HttpServletRequest;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.session.web.http.CookieSerializer;
import org.springframework.session.web.http.DefaultCookieSerializer;
import org.springframework.stereotype.Component;

/**
 * The cookie of a sign-in. Over an encrypted connection its name has the prefix
 * {@code __Host-}, with which a browser takes it from this very host only, for all of its
 * paths, and never sends it in the clear (RFC 6265bis, section 4.1.3). On the machine
 * itself, without TLS, such a cookie would not be kept by every browser, so there it has
 * a plain name.
 */
@Component
@ConditionalOnWebApplication
class SessionCookie implements CookieSerializer {

	static final String ENCRYPTED = "__Host-seriatim";

	static final String ON_THIS_MACHINE = "seriatim";

	private final CookieSerializer encrypted = cookie(ENCRYPTED, true);

	private final CookieSerializer onThisMachine = cookie(ON_THIS_MACHINE, false);

	private static CookieSerializer cookie(String name, boolean secure) {
		var cookie = new DefaultCookieSerializer();
		cookie.setCookieName(name);
		cookie.setUseSecureCookie(secure);
		cookie.setUseHttpOnlyCookie(true);
		cookie.setSameSite("Lax");
		cookie.setCookiePath("/");
		return cookie;
	}

	@Override
	public void writeCookieValue(CookieValue value) {
		of(value.getRequest()).writeCookieValue(value);
	}

	/* The database would take offence at some of what else a cookie can hold. */
	@Override
	public List<String> readCookieValues(HttpServletRequest request) {
		return of(request).readCookieValues(request).stream().filter(SessionIds::isOne).toList();
	}

	private CookieSerializer of(HttpServletRequest request) {
		return request.isSecure() ? this.encrypted : this.onThisMachine;
	}

}
