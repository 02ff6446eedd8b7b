package org.seriatim.access.web;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;

import jakarta.servlet.http.Cookie;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpHeaders;
import org.springframework.http.ResponseCookie;
import org.springframework.web.util.WebUtils;

/**
 * The browser behind a request: where it is, of which family, and the mark it was given.
 */
record Browser(String address, String family, @Nullable String mark) {

	static final String ON_THIS_MACHINE = "seriatim-device";

	/** With the prefix of {@link SessionCookie}, for the same reason. */
	static final String ENCRYPTED = "__Host-seriatim-device";

	private static final int LONGEST_MARK = 200;

	/** The first that an agent names is what it is; most also name whom they resemble. */
	private static final Map<String, String> FAMILIES = ordered("Edg", "Edge", "OPR/", "Opera", "SamsungBrowser",
			"Samsung Internet", "Firefox/", "Firefox", "FxiOS", "Firefox", "Chrome/", "Chrome", "CriOS", "Chrome",
			"Safari/", "Safari");

	private static final Map<String, String> SYSTEMS = ordered("Android", "Android", "iPhone", "iPhone", "iPad", "iPad",
			"Windows", "Windows", "CrOS", "ChromeOS", "Mac OS X", "macOS", "Linux", "Linux");

	static Browser of(HttpServletRequest request) {
		String agent = request.getHeader(HttpHeaders.USER_AGENT);
		var cookie = WebUtils.getCookie(request, cookie(request));
		return new Browser(request.getRemoteAddr(), family((agent != null) ? agent : ""), mark(cookie));
	}

	private static @Nullable String mark(@Nullable Cookie cookie) {
		return (cookie != null && cookie.getValue().length() <= LONGEST_MARK) ? cookie.getValue() : null;
	}

	/** In words that somebody recognises; nothing of what was sent is repeated. */
	private static String family(String agent) {
		String browser = named(FAMILIES, agent, "another browser");
		String system = named(SYSTEMS, agent, "");
		return system.isEmpty() ? browser : browser + ", " + system;
	}

	private static String named(Map<String, String> names, String agent, String otherwise) {
		return names.entrySet()
			.stream()
			.filter((name) -> agent.contains(name.getKey()))
			.map(Map.Entry::getValue)
			.findFirst()
			.orElse(otherwise);
	}

	private static Map<String, String> ordered(String... pairs) {
		var names = new LinkedHashMap<String, String>();
		for (int i = 0; i < pairs.length; i += 2) {
			names.put(pairs[i], pairs[i + 1]);
		}
		return names;
	}

	static void give(HttpServletRequest request, HttpServletResponse response, String mark, Duration lasts) {
		var cookie = ResponseCookie.from(cookie(request), mark)
			.httpOnly(true)
			.secure(request.isSecure())
			.sameSite("Strict")
			.path("/")
			.maxAge(lasts)
			.build();
		response.addHeader(HttpHeaders.SET_COOKIE, cookie.toString());
	}

	private static String cookie(HttpServletRequest request) {
		return request.isSecure() ? ENCRYPTED : ON_THIS_MACHINE;
	}

}
