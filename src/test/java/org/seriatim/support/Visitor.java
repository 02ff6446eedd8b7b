package org.seriatim.support;

import java.io.IOException;
import java.net.CookieManager;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.stream.Collectors;

import org.jsoup.Jsoup;
import org.jsoup.nodes.FormElement;

/**
 * Somebody with a browser without scripts, over a real connection. Cookies belong to a
 * machine and not to a port, so that all services of this machine see the same browser,
 * as behind a balancer.
 */
public final class Visitor {

	private final HttpClient browser = HttpClient.newBuilder().cookieHandler(new CookieManager()).build();

	public HttpResponse<String> open(String address) {
		return send(HttpRequest.newBuilder(URI.create(address)).GET());
	}

	/**
	 * Fills in a form of a page and sends it.
	 * @param form which one, as a selector
	 * @param to the address of the service that takes it, which may be another one than
	 * that which showed the page
	 */
	public HttpResponse<String> fill(HttpResponse<String> page, String form, String to, Map<String, String> typed) {
		var element = (FormElement) Jsoup.parse(page.body(), page.uri().toString()).select(form).first();
		if (element == null) {
			throw new AssertionError("no %s on %s (%d)".formatted(form, page.uri(), page.statusCode()));
		}
		var content = element.formData()
			.stream()
			.collect(Collectors.toMap((field) -> field.key(), (field) -> field.value(), (first, second) -> first));
		content.putAll(typed);
		String body = content.entrySet()
			.stream()
			.map((field) -> encoded(field.getKey()) + "=" + encoded(field.getValue()))
			.collect(Collectors.joining("&"));
		return send(HttpRequest.newBuilder(URI.create(to + URI.create(element.absUrl("action")).getRawPath()))
			.header("Content-Type", "application/x-www-form-urlencoded")
			.POST(HttpRequest.BodyPublishers.ofString(body)));
	}

	/** Signs in with a password. */
	public HttpResponse<String> signIn(String service, String name, String password) {
		return fill(open(service + "/sign-in"), "main form", service, Map.of("name", name, "password", password));
	}

	private HttpResponse<String> send(HttpRequest.Builder request) {
		try {
			return this.browser.send(request.build(), BodyHandlers.ofString());
		}
		catch (IOException ex) {
			throw new IllegalStateException(ex);
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
			throw new IllegalStateException(ex);
		}
	}

	private static String encoded(String text) {
		return URLEncoder.encode(text, StandardCharsets.UTF_8);
	}

}
