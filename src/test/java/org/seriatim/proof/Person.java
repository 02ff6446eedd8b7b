package org.seriatim.proof;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.CookieManager;
import java.net.CookiePolicy;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.util.Map;
import java.util.function.UnaryOperator;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

import org.jsoup.Jsoup;
import org.seriatim.support.CodeApp;

/** Somebody of the staff before a browser, or a patient with a link. */
final class Person {

	private static final Pattern TOKEN = Pattern.compile("name=\"csrf\" content=\"([^\"]+)\"");

	private static final String BOUNDARY = "----proof-7d3f";

	private final HttpClient http = HttpClient.newBuilder()
		.connectTimeout(Duration.ofSeconds(5))
		.cookieHandler(new CookieManager(null, CookiePolicy.ACCEPT_ALL))
		.build();

	private final String name;

	private final UnaryOperator<String> addressOf;

	private String token = "";

	/**
	 * @param addressOf turns a path into the address of a service
	 */
	Person(String name, UnaryOperator<String> addressOf) {
		this.name = name;
		this.addressOf = addressOf;
	}

	/**
	 * What came back.
	 *
	 * @param location where the answer leads, without the host, or nothing
	 */
	record Answer(int status, String location, byte[] content) {

		String body() {
			return new String(this.content, StandardCharsets.UTF_8);
		}

		boolean leadsTo(String path) {
			return this.status == 302 && this.location.startsWith(path);
		}

		/** Whether it says that the service could do nothing just now. */
		boolean isFault() {
			return this.status >= 500 || this.status == 429;
		}

	}

	void signIn() throws IOException {
		takeTokenOf("/sign-in");
		var answer = post("/sign-in", Map.of("name", this.name, "password", Clinic.PASSWORD));
		if (answer.status() != 302) {
			throw new IOException("The sign-in of " + this.name + " was answered with " + answer.status());
		}
		takeTokenOf("/password");
	}

	/**
	 * Signs in for the first time, and takes up the second factor that the role needs.
	 */
	void signInWithCode() throws IOException {
		var address = "/account/second-factor";
		takeTokenOf("/sign-in");
		post("/sign-in", Map.of("name", this.name, "password", Clinic.PASSWORD));
		takeTokenOf(address);
		var app = CodeApp.reading(Jsoup.parse(get(address).body()).select("#second-factor-secret").text());
		var answer = post(address, Map.of("code", app.code(Clock.systemUTC())));
		if (answer.status() != 200) {
			throw new IOException("The code of " + this.name + " was answered with " + answer.status());
		}
		takeTokenOf("/password");
	}

	private void takeTokenOf(String page) throws IOException {
		var found = TOKEN.matcher(get(page).body());
		if (!found.find()) {
			throw new IOException("The page " + page + " has no token");
		}
		this.token = found.group(1);
	}

	Answer get(String path) throws IOException {
		return send(HttpRequest.newBuilder(URI.create(this.addressOf.apply(path))));
	}

	Answer post(String path, Map<String, String> fields) throws IOException {
		var body = fields.entrySet()
			.stream()
			.map((field) -> encoded(field.getKey()) + "=" + encoded(field.getValue()))
			.collect(Collectors.joining("&"));
		return send(HttpRequest.newBuilder(URI.create(this.addressOf.apply(path)))
			.header("Content-Type", "application/x-www-form-urlencoded")
			.header("X-CSRF-TOKEN", this.token)
			.POST(BodyPublishers.ofString(body)));
	}

	Answer upload(String path, Map<String, String> fields, String field, String fileName, byte[] file)
			throws IOException {
		var body = new ByteArrayOutputStream();
		for (var text : fields.entrySet()) {
			body.write(part(text.getKey(), "", text.getValue()));
		}
		body.write(part(field, "; filename=\"" + fileName + "\"\r\nContent-Type: application/octet-stream", ""));
		body.write(file);
		body.write(("\r\n--" + BOUNDARY + "--\r\n").getBytes(StandardCharsets.UTF_8));
		return send(HttpRequest.newBuilder(URI.create(this.addressOf.apply(path)))
			.header("Content-Type", "multipart/form-data; boundary=" + BOUNDARY)
			.header("X-CSRF-TOKEN", this.token)
			.POST(BodyPublishers.ofByteArray(body.toByteArray())));
	}

	private static byte[] part(String name, String more, String text) {
		return ("\r\n--" + BOUNDARY + "\r\nContent-Disposition: form-data; name=\"" + name + "\"" + more + "\r\n\r\n"
				+ text)
			.getBytes(StandardCharsets.UTF_8);
	}

	private static String encoded(String text) {
		return URLEncoder.encode(text, StandardCharsets.UTF_8);
	}

	private Answer send(HttpRequest.Builder request) throws IOException {
		try {
			var response = this.http.send(request.timeout(Duration.ofSeconds(100)).build(), BodyHandlers.ofByteArray());
			var location = response.headers()
				.firstValue("Location")
				.map((target) -> target.replaceFirst("^https?://[^/]+", ""))
				.orElse("");
			return new Answer(response.statusCode(), location, response.body());
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
			throw new IOException(ex);
		}
	}

}
