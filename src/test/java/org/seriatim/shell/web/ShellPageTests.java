package org.seriatim.shell.web;

import java.io.IOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.logging.logback.StructuredLogEncoder;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.context.SpringBootTest.WebEnvironment;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.core.env.Environment;
import org.springframework.core.env.StandardEnvironment;

import static org.assertj.core.api.Assertions.assertThat;

@SpringBootTest(classes = ShellSite.class, webEnvironment = WebEnvironment.RANDOM_PORT,
		properties = { "spring.servlet.multipart.max-request-size=10KB", "logging.level.org.seriatim.shell=info",
				"management.endpoint.health.group.readiness.include=readinessState",
				"seriatim.data=target/shell-data" })
@ExtendWith(OutputCaptureExtension.class)
class ShellPageTests {

	private static final Pattern REFERENCE = Pattern.compile("Reference ([0-9A-Z]{4}-[0-9A-Z]{4})");

	private final HttpClient browser = HttpClient.newHttpClient();

	@LocalServerPort
	private int port;

	@Test
	void opensWithSkipLinkHeadingAndOneMainRegion() throws Exception {
		var page = get("/components", "lead");
		assertThat(page.statusCode()).isEqualTo(200);
		assertThat(page.body()).contains("<title>Components · Seriatim</title>", "href=\"#main\"", "id=\"main\"",
				"role=\"status\"");
		assertThat(page.body()).containsOnlyOnce("<main").containsOnlyOnce("<h1");
	}

	@Test
	void hasNoUnresolvedMessageAndNothingInline() throws Exception {
		assertThat(get("/components", "lead").body()).doesNotContain("??", "style=\"", "<style", "javascript:");
	}

	@Test
	void tellsCachesThatAPageAndItsFragmentShareAnAddress() throws Exception {
		assertThat(get("/components", "lead").headers().allValues("Vary")).contains("HX-Request");
		assertThat(get("/twin", "lead", "HX-Request", "true").headers().allValues("Vary")).contains("HX-Request");
	}

	@Test
	void answersHtmxWithTheFragmentButBoostedAndHistoryRequestsWithThePage() throws Exception {
		assertThat(get("/twin", "lead").body()).isEqualTo("whole page");
		assertThat(get("/twin", "lead", "HX-Request", "true").body()).isEqualTo("fragment");
		assertThat(get("/twin", "lead", "HX-Request", "true", "HX-Boosted", "true").body()).isEqualTo("whole page");
		assertThat(get("/twin", "lead", "HX-Request", "true", "HX-History-Restore-Request", "true").body())
			.isEqualTo("whole page");
	}

	@Test
	void readsEnumerationsByTheirWordAndByTheirName() throws Exception {
		assertThat(get("/sections/follow_up?other=SETUP", "lead").body()).isEqualTo("FOLLOW_UP SETUP");
		assertThat(get("/sections/setup?other=", "lead").body()).isEqualTo("SETUP null");
		assertThat(get("/sections/elsewhere", "lead").statusCode()).isEqualTo(400);
	}

	@Test
	void offersOnlyWhatTheSignedInMayOpen() throws Exception {
		assertThat(get("/components", "lead").body()).contains("href=\"/follow-up\"", "href=\"/outcomes/lumps\"");
		assertThat(get("/components", "desk").body()).contains("href=\"/follow-up\"")
			.doesNotContain("href=\"/outcomes/lumps\"");
	}

	@Test
	void marksThePageOneIsOnAndTheSectionOneIsIn() throws Exception {
		assertThat(get("/outcomes/lumps", "lead").body())
			.containsPattern("sections__link\" href=\"/outcomes/lumps\" aria-current=\"page\"")
			.containsPattern("pages__link\" href=\"/outcomes/lumps\" aria-current=\"page\"");
		assertThat(get("/outcomes/lumps/detail", "lead").body())
			.containsPattern("pages__link\" href=\"/outcomes/lumps\" aria-current=\"true\"")
			.doesNotContainPattern("pages__link\" href=\"/outcomes/complications\" aria-current");
	}

	@Test
	void givesARefusedEntryBackAsItWasTyped() throws Exception {
		var page = post("/components", Map.of("goal", "  ", "depthMm", "12,345", "points", "7.5", "seenOn",
				"2026-01-02", "section", "patients", "numb", "true", "severity", "3", "note", "<b>firm</b>"));
		assertThat(page.statusCode()).isEqualTo(422);
		assertThat(page.body()).contains("<title>Error: Components · Seriatim</title>", "value=\"12,345\"",
				"value=\"7.5\"", "value=\"2026-01-02\"", "&lt;b&gt;firm&lt;/b&gt;");
		assertThat(page.body()).containsPattern("<option value=\"patients\"\\s+selected=\"selected\"")
			.containsPattern("id=\"numb\"[^>]* checked=\"checked\"")
			.containsPattern("id=\"severity-4\"[^>]* checked=\"checked\"");
	}

	@Test
	void listsWhatToMendInTheOrderOfTheFieldsAndTiesEachToItsField() throws Exception {
		var page = post("/components", Map.of("points", "x", "depthMm", "11")).body();
		assertThat(page.lines()
			.map(Pattern.compile("<a href=\"#(\\w+)\"[^>]*>([^<]+)</a>")::matcher)
			.filter((link) -> link.find() && !link.group(1).equals("main"))
			.map((link) -> link.group(1) + "|" + link.group(2))).containsExactly("goal|Goal: Fill this in.",
					"depthMm|Depth mm: Enter a number from 0 to 10 mm with at most 2 decimals.",
					"points|Points: Enter a whole number from 1 to 200.", "seenOn|Seen on: Fill this in.",
					"section|Section: Fill this in.");
		assertThat(page).contains("aria-invalid=\"true\"",
				"aria-describedby=\"depthMm-unit depthMm-last depthMm-error\"", "id=\"depthMm-error\"");
	}

	@Test
	void givesTheOtherAnswersBackWhenOneCannotBeRead() throws Exception {
		var page = post("/components",
				Map.of("goal", "even cheeks", "seenOn", "yesterday", "section", "patients", "numb", "false"))
			.body();
		assertThat(page).contains("value=\"even cheeks\"")
			.containsPattern("<option value=\"patients\"\\s+selected=\"selected\"")
			.containsPattern("id=\"numb-2\"[^>]* checked=\"checked\"");
	}

	@Test
	void namesNoTypeWhenAValueIsNotOneOfThoseOffered() throws Exception {
		assertThat(post("/components", Map.of("section", "nowhere")).body())
			.contains("Section: Choose one of the values offered.");
		assertThat(post("/components", Map.of("seenOn", "yesterday")).body())
			.contains("Seen on: Enter a date as year-month-day, for example 2026-03-21.");
	}

	@Test
	void saysOnceThatAnEntryWasTaken() throws Exception {
		var answer = post("/components",
				Map.of("goal", "even cheeks", "depthMm", "0.4", "seenOn", "2026-01-02", "section", "patients"));
		assertThat(answer.statusCode()).isEqualTo(302);
		var next = send(request("/components", "lead").header("Cookie",
				answer.headers().firstValue("Set-Cookie").orElseThrow().split(";")[0]));
		assertThat(next.body()).contains("The entry is complete.");
	}

	@Test
	void explainsAMissingPageWithAReferenceThatIsInTheLog(CapturedOutput log) throws Exception {
		var page = get("/nowhere", "lead");
		assertThat(page.statusCode()).isEqualTo(404);
		assertThat(page.body()).contains("There is no such page", "href=\"/follow-up\"");
		assertThat(log).contains("Reference " + reference(page));
	}

	@Test
	void neverShowsWhatAnExceptionSays(CapturedOutput log) throws Exception {
		var page = get("/broken", "lead");
		assertThat(page.statusCode()).isEqualTo(500);
		assertThat(page.body()).contains("Something went wrong on our side")
			.doesNotContain("Muster", "IllegalState", "Exception");
		assertThat(log).contains("Reference " + reference(page) + ": GET answered 500",
				"java.lang.IllegalStateException\n\tat org.seriatim.shell.web.ShellSite");
		assertThat(log).doesNotContain("Muster");
		assertThat(send(request("/broken", "lead").header("Accept", "application/json")).body()).contains("reference")
			.doesNotContain("Muster");
	}

	@Test
	void everyAnswerHasTheIdOfItsRequest() throws Exception {
		assertThat(get("/components", "lead").headers().firstValue("X-Request-Id")).get()
			.asString()
			.matches("[0-9A-Z]{4}-[0-9A-Z]{4}");
		var given = "4bf92f3577b34da6a3ce929d0e0e4736";
		assertThat(
				send(request("/components", "lead").header("X-Request-Id", given)).headers().firstValue("X-Request-Id"))
			.contains(given);
		for (var unfit : List.of("Quill-Ada-1984-02-01", "abc", "f".repeat(65), "4bf92f3577b34da6 a3ce929d0e0e4736")) {
			assertThat(send(request("/components", "lead").header("X-Request-Id", unfit)).headers()
				.firstValue("X-Request-Id")).get().asString().matches("[0-9A-Z]{4}-[0-9A-Z]{4}");
		}
	}

	@Test
	void aReferenceOnAnErrorPageLeadsToAllLinesOfItsRequest(CapturedOutput log) throws Exception {
		var page = get("/broken", "lead");
		assertThat(page.headers().firstValue("X-Request-Id")).contains(reference(page));
		assertThat(log).contains("[" + reference(page) + "] ");
		var given = "7bf92f3577b34da6a3ce929d0e0e4736";
		page = send(request("/broken", "lead").header("X-Request-Id", given));
		assertThat(log.getAll().lines().filter((line) -> line.contains(given))).as("the line has both")
			.anyMatch((line) -> line.contains("Reference "));
		assertThat(log.getAll()).contains("Reference " + reference(page));
	}

	@Test
	void aStructuredLineHasTheIdAndNothingThatAnExceptionSays() throws Exception {
		var context = (LoggerContext) LoggerFactory.getILoggerFactory();
		var events = new ListAppender<ILoggingEvent>() {

			@Override
			protected void append(ILoggingEvent event) {
				event.prepareForDeferredProcessing();
				super.append(event);
			}

		};
		events.list = new CopyOnWriteArrayList<>();
		events.start();
		var root = context.getLogger(Logger.ROOT_LOGGER_NAME);
		root.addAppender(events);
		HttpResponse<String> page;
		try {
			page = get("/broken?name=Muster", "lead");
		}
		finally {
			root.detachAppender(events);
		}
		context.putObject(Environment.class.getName(), new StandardEnvironment());
		for (var format : List.of("ecs", "logstash")) {
			var encoder = new StructuredLogEncoder();
			encoder.setContext(context);
			encoder.setFormat(format);
			encoder.start();
			var lines = events.list.stream()
				.map((event) -> new String(encoder.encode(event), StandardCharsets.UTF_8))
				.toList();
			assertThat(lines)
				.anySatisfy((line) -> assertThat(line).contains("\"requestId\":\"" + reference(page) + "\"",
						"Reference " + reference(page), "java.lang.IllegalStateException"));
			assertThat(lines).noneMatch((line) -> line.contains("Muster"));
		}
	}

	@Test
	void tellsWhoMayNotOpenAPageWhyAndWhatToDo() throws Exception {
		var page = get("/outcomes/lumps", "desk");
		assertThat(page.statusCode()).isEqualTo(403);
		assertThat(page.body()).contains("You may not open this", "ask an administrator");
	}

	@Test
	void keepsWhatWasTypedWhenSomebodyElseWasFaster() throws Exception {
		var page = post("/stale", Map.of("volumeMl", "0.35", "reason", "<typo>", "version", "1", "_csrf", "token",
				"newPassword", "s3cret"));
		assertThat(page.statusCode()).isEqualTo(409);
		assertThat(page.body()).contains("nothing was saved", "Volume ml", "0.35", "&lt;typo&gt;")
			.doesNotContain("token", "s3cret");
		reference(page);
	}

	@Test
	void refusesAnUploadThatIsTooLargeBeforeItIsRead() throws Exception {
		var body = new byte[20_000];
		var page = send(request("/components", "lead").header("Content-Type", "multipart/form-data; boundary=x")
			.POST(HttpRequest.BodyPublishers.ofByteArray(body)));
		assertThat(page.statusCode()).isEqualTo(413);
		assertThat(page.body()).contains("This file is too large");
	}

	@Test
	void keepsStylesheetsForAYearUnderAnAddressThatChangesWithThem() throws Exception {
		var link = Pattern.compile("href=\"(/css/seriatim-[0-9a-f]{32}\\.css)\"")
			.matcher(get("/components", "lead").body());
		assertThat(link.find()).isTrue();
		var sheet = get(link.group(1), "lead");
		assertThat(sheet.headers().firstValue("Cache-Control")).hasValue("max-age=31536000");
		assertThat(sheet.body()).containsPattern("tokens-[0-9a-f]{32}\\.css")
			.containsPattern("components/table-[0-9a-f]{32}\\.css");
	}

	private static String reference(HttpResponse<String> page) {
		var reference = REFERENCE.matcher(page.body());
		assertThat(reference.find()).as("a reference on the page").isTrue();
		return reference.group(1);
	}

	private HttpResponse<String> get(String path, String account, String... headers)
			throws IOException, InterruptedException {
		var request = request(path, account);
		return send((headers.length > 0) ? request.headers(headers) : request);
	}

	private HttpResponse<String> post(String path, Map<String, String> form) throws IOException, InterruptedException {
		// a form sends the marker of its check box whether it is ticked or not
		var body = form.entrySet()
			.stream()
			.map((field) -> field.getKey() + "=" + URLEncoder.encode(field.getValue(), StandardCharsets.UTF_8))
			.collect(Collectors.joining("&", "", "&_photographed=on"));
		return send(request(path, "lead").header("Content-Type", "application/x-www-form-urlencoded")
			.POST(HttpRequest.BodyPublishers.ofString(body)));
	}

	private HttpRequest.Builder request(String path, String account) {
		var credentials = Base64.getEncoder().encodeToString((account + ":secret").getBytes(StandardCharsets.UTF_8));
		return HttpRequest.newBuilder(URI.create("http://localhost:" + this.port + path))
			.header("Authorization", "Basic " + credentials)
			.header("Accept", "text/html");
	}

	private HttpResponse<String> send(HttpRequest.Builder request) throws IOException, InterruptedException {
		return this.browser.send(request.build(), BodyHandlers.ofString(StandardCharsets.UTF_8));
	}

}
