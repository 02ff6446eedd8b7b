package org.seriatim.access.web;

import java.io.UnsupportedEncodingException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

import jakarta.servlet.http.Cookie;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * A browser at an address of the network: keeps its cookies, and sends the forms of the
 * page that it has before it with all their hidden fields.
 */
final class Visitor {

	private final MockMvcTester pages;

	private String address;

	private final Map<String, Cookie> cookies = new LinkedHashMap<>();

	private Document page = new Document("");

	private MvcTestResult answer;

	Visitor(MockMvcTester pages, String address) {
		this.pages = pages;
		this.address = address;
	}

	/** Carries the browser to another address. */
	Visitor from(String address) {
		this.address = address;
		return this;
	}

	/** Opens a page without following where it leads. */
	Visitor open(String path) {
		var request = this.pages.get().uri(path.replaceFirst("^http://localhost", "")).with((sent) -> {
			sent.setRemoteAddr(this.address);
			return sent;
		});
		return answered(this.cookies.isEmpty() ? request.exchange() : request.cookie(cookies()).exchange());
	}

	/**
	 * Sends the form of the page with that action, its fields as they are but for these.
	 */
	Visitor send(String action, String... fields) {
		return send(form(action), action, fields);
	}

	/** What the form of the page with that action holds before anybody types. */
	Map<String, List<String>> form(String action) {
		var form = this.page.selectFirst("form[method=post][action='" + action + "']");
		assertThat(form).as("form to %s on %s", action, this.page.title()).isNotNull();
		var values = new LinkedHashMap<String, List<String>>();
		form.select("input[type=hidden]")
			.forEach((field) -> values.computeIfAbsent(field.attr("name"), (name) -> new ArrayList<>())
				.add(field.val()));
		return values;
	}

	/** Sends a form that was taken from a page before. */
	Visitor send(Map<String, List<String>> form, String action, String... fields) {
		var request = this.pages.post().uri(action).with((sent) -> {
			sent.setRemoteAddr(this.address);
			return sent;
		});
		form.forEach((name, values) -> request.param(name, values.toArray(String[]::new)));
		for (int i = 0; i < fields.length; i += 2) {
			request.param(fields[i], fields[i + 1]);
		}
		return answered(this.cookies.isEmpty() ? request.exchange() : request.cookie(cookies()).exchange());
	}

	/** Follows redirects up to a page. */
	Visitor follow() {
		while (this.answer.getResponse().getRedirectedUrl() != null) {
			open(this.answer.getResponse().getRedirectedUrl());
		}
		return this;
	}

	Visitor signIn(String name, String password) {
		return open("/sign-in").send("/sign-in", "name", name, "password", password);
	}

	/** The session is gone, as after its time; what the browser keeps longer stays. */
	Visitor forgetSession() {
		this.cookies.keySet().removeIf((name) -> !name.equals("seriatim-device"));
		return this;
	}

	private Visitor answered(MvcTestResult result) {
		this.answer = result;
		for (Cookie cookie : result.getResponse().getCookies()) {
			if (cookie.getMaxAge() == 0) {
				this.cookies.remove(cookie.getName());
			}
			else {
				this.cookies.put(cookie.getName(), cookie);
			}
		}
		this.page = page(result);
		return this;
	}

	static Document page(MvcTestResult result) {
		try {
			return Jsoup.parse(result.getResponse().getContentAsString());
		}
		catch (UnsupportedEncodingException ex) {
			throw new IllegalStateException(ex);
		}
	}

	Visitor keep(String cookie, String value) {
		this.cookies.put(cookie, new Cookie(cookie, value));
		return this;
	}

	String cookie(String name) {
		return this.cookies.get(name).getValue();
	}

	/** The cookie that is no device's. */
	String sessionCookie() {
		return this.cookies.entrySet()
			.stream()
			.filter((cookie) -> !cookie.getKey().equals("seriatim-device"))
			.map((cookie) -> cookie.getValue().getValue())
			.findFirst()
			.orElse("");
	}

	private Cookie[] cookies() {
		return this.cookies.values().toArray(Cookie[]::new);
	}

	MvcTestResult answer() {
		return this.answer;
	}

	int status() {
		return this.answer.getResponse().getStatus();
	}

	/** Where the answer leads, without the host. */
	String leadsTo() {
		String target = this.answer.getResponse().getRedirectedUrl();
		return (target != null) ? target.replaceFirst("^http://localhost", "") : "";
	}

	/** What the page says. */
	String text() {
		return this.page.text();
	}

	Document page() {
		return this.page;
	}

	String heading() {
		return this.page.select("h1").text();
	}

}
