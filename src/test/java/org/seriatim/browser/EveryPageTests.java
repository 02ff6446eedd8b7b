package org.seriatim.browser;

import java.io.IOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.FilePayload;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer.OrderAnnotation;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.seriatim.photograph.TestPictures;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Walks the demo clinic from the first page through every link, one page of each kind, as
 * each kind of staff. Every page answers. Whoever is the first to come to a kind of page
 * looks at it in the browser: it raises no error there (a style or script that the
 * security policy refuses is one), does not scroll sideways, and axe finds no violation.
 * Every build walks as a practitioner and as a clinic lead in light colours; the others
 * and the dark colours are walked in the profile {@code proof}.
 */
@TestMethodOrder(OrderAnnotation.class)
class EveryPageTests {

	private static final Pattern IDENTIFIER = Pattern.compile("[0-9a-f]{8}-[0-9a-f-]{27}|\\d{4}-\\d{2}-\\d{2}");

	private static final Pattern SECRET = Pattern.compile("/answer/[A-Za-z0-9_-]{43}");

	private static final int MOST_PAGES = 80;

	private static Chromium chromium;

	private static RunningService service;

	/**
	 * Pages that axe was let loose on: while it tries out colours and sizes, the security
	 * policy refuses its styles, not ours, and the browser may say so late.
	 */
	private static final Set<Page> examining = new HashSet<>();

	/**
	 * Kinds of page that were opened in the colours, whoever was signed in; for the next
	 * one the answer is enough, and its links.
	 */
	private static final Set<String> opened = new HashSet<>();

	/** Kinds of page that axe has seen in the colours, whoever was signed in. */
	private static final Set<String> examined = new HashSet<>();

	@BeforeAll
	static void openTheBrowser() {
		chromium = Chromium.launch();
		service = DemoClinic.running();
	}

	@AfterAll
	static void closeTheBrowser() {
		if (chromium != null) {
			chromium.close();
		}
	}

	/**
	 * Two pictures are chosen at once and sent one by one by the page's script, two
	 * points are set in each with the pointer, and the later one is laid upon the earlier
	 * one.
	 */
	@Test
	@Order(1)
	void photographsAreAddedAlignedAndCompared() throws IOException {
		try (var context = chromium.context(820, 1100, ColorScheme.DARK)) {
			var page = context.newPage();
			page.navigate(service.address("/sign-in"));
			page.fill("#name", "i.sandell");
			page.fill("#password", "a series of small steps");
			page.click("main button[type=submit]");
			page.waitForURL((url) -> !url.contains("sign-in"));
			page.navigate(service.address("/follow-up"));
			page.locator("main a[href*=\"/series/\"]").first().click();
			page.locator("#scars a[href*=\"/photographs?scar=\"]").first().click();
			page.waitForURL("**/photographs?scar=*");
			var photographs = page.url().replaceAll("\\?.*", "");
			page.click("text=Record or withdraw consent");
			page.check("input[name=purpose][value=care]");
			page.click("main button[type=submit]");
			PlaywrightAssertions.assertThat(page.locator("main table")).containsText("Treatment and its record");
			page.navigate(photographs);
			add(page, "front", "2026-10-12", "first.jpg", 800);
			add(page, "front", "2026-11-09", "second.jpg", 1000);
			PlaywrightAssertions.assertThat(page.locator(".photograph__picture")).hasCount(2);
			assertThat(Chromium.violations(page)).isEmpty();
			page.click("text=Compare two");
			page.click("text=Set two points");
			for (int picture = 0; picture < 2; picture++) {
				var sheet = page.locator("[data-points]").nth(picture);
				var box = sheet.boundingBox();
				sheet.click(new Locator.ClickOptions().setPosition(box.width / 4, box.height / 2));
				sheet.click(new Locator.ClickOptions().setPosition(box.width * 3 / 4, box.height / 2));
			}
			assertThat(Chromium.violations(page)).isEmpty();
			page.click("text=Keep the points");
			PlaywrightAssertions.assertThat(page.locator("main")).containsText("View, light and camera are the same.");
			PlaywrightAssertions.assertThat(page.locator(".comparison__earlier")).isVisible();
			PlaywrightAssertions.assertThat(page.locator(".comparison__later")).isHidden();
			page.focus("#which-earlier");
			page.keyboard().press("ArrowRight");
			PlaywrightAssertions.assertThat(page.locator(".comparison__later")).isVisible();
			PlaywrightAssertions.assertThat(page.locator(".comparison__earlier")).isHidden();
			assertThat(Chromium.violations(page)).isEmpty();
		}
	}

	private static void add(Page page, String view, String day, String file, int width) throws IOException {
		page.locator("text=Add photographs").first().click();
		page.selectOption("#view", view);
		page.check("input[name=lightSet][value=flat]", new Page.CheckOptions().setForce(true));
		page.fill("#takenOn", day);
		page.fill("#camera", "test");
		page.setInputFiles("#files", new FilePayload(file, "image/jpeg", TestPictures.jpeg(width, width * 3 / 4)));
		page.click("main form button[type=submit]");
		PlaywrightAssertions.assertThat(page.locator("[data-sending]")).containsText("Front, added");
		page.click("text=All photographs");
	}

	@ParameterizedTest
	@CsvSource({ "i.sandell, 820, LIGHT, 12", "l.hagen, 1280, LIGHT, 12" })
	void isWholeAndAccessible(String name, int width, ColorScheme scheme, int fewestPages) {
		try (var context = chromium.context(width, 1100, scheme)) {
			var errors = new ArrayList<String>();
			context.onConsoleMessage((message) -> {
				if (message.type().equals("error") && !examining.contains(message.page())) {
					errors.add(message.page().url() + ": " + message.text());
				}
			});
			context.onWebError((error) -> errors.add(error.page().url() + ": " + error.error()));
			var page = context.newPage();
			page.navigate(service.address("/sign-in"));
			var problems = new LinkedHashMap<String, List<String>>();
			note(problems, page, scheme);
			page.fill("#name", name);
			page.fill("#password", "a series of small steps");
			page.click("main button[type=submit]");
			int visited = walk(page, problems, scheme);
			assertThat(problems).isEmpty();
			assertThat(errors).isEmpty();
			assertThat(visited).as("pages of %s", name).isGreaterThanOrEqualTo(fewestPages);
		}
	}

	@ParameterizedTest
	@EnabledIfSystemProperty(named = "chair.kills", matches = "20", disabledReason = "takes minutes: profile proof")
	@CsvSource({ "f.moor, 820, LIGHT, 3", "a.linde, 820, LIGHT, 6", "s.ost, 1280, LIGHT, 4", "l.hagen, 820, DARK, 12",
			"s.ost, 820, DARK, 4" })
	void isWholeAndAccessibleForEverybodyElseAndInDarkColours(String name, int width, ColorScheme scheme,
			int fewestPages) {
		isWholeAndAccessible(name, width, scheme, fewestPages);
	}

	/*
	 * What patients open on a telephone; no link of the clinic's own pages leads there.
	 */
	@ParameterizedTest
	@EnumSource(value = ColorScheme.class, names = { "LIGHT", "DARK" })
	void patientsPagesAreWholeAndAccessible(ColorScheme scheme) {
		try (var clinic = chromium.context(820, 1100, ColorScheme.LIGHT);
				var telephone = chromium.context(390, 844, scheme)) {
			var desk = clinic.newPage();
			desk.navigate(service.address("/sign-in"));
			desk.fill("#name", "f.moor");
			desk.fill("#password", "a series of small steps");
			desk.click("main button[type=submit]");
			desk.waitForURL((url) -> !url.contains("sign-in"));
			desk.navigate(service.address("/outbox"));
			desk.locator("main tbody tr", new Page.LocatorOptions().setHasText("Link to answer by"))
				.first()
				.locator("a")
				.first()
				.click();
			var address = SECRET.matcher(desk.locator("main .as-typed").innerText());
			assertThat(address.find()).isTrue();
			var page = telephone.newPage();
			page.navigate(service.address(address.group()));
			assertThat(problemsOf(page)).as("asked").isEmpty();
			page.click("main form button[type=submit]");
			PlaywrightAssertions.assertThat(page.locator("main")).containsText("Answer at least one question.");
			assertThat(problemsOf(page)).as("refused").isEmpty();
			page.check("input[name=lumpNow][value=absent]", new Page.CheckOptions().setForce(true));
			page.click("main form button[type=submit]");
			PlaywrightAssertions.assertThat(page.locator("main")).containsText("Thank you");
			assertThat(problemsOf(page)).as("answered").isEmpty();
			page.navigate(service.address(address.group() + "/no-mail"));
			assertThat(problemsOf(page)).as("no mail").isEmpty();
			page.navigate(service.address("/answer/" + "A".repeat(43)));
			assertThat(problemsOf(page)).as("no link").isEmpty();
		}
	}

	private static List<String> problemsOf(Page page) {
		var found = new ArrayList<>(Chromium.violations(page));
		if (Boolean.TRUE.equals(page.evaluate("document.documentElement.scrollWidth > window.innerWidth + 1"))) {
			found.add("scrolls sideways");
		}
		return found;
	}

	/** Visits one page of each kind that links lead to. */
	private static int walk(Page start, Map<String, List<String>> problems, ColorScheme scheme) {
		var kinds = new LinkedHashMap<String, String>();
		var next = new ArrayDeque<String>();
		collect(start, kinds, next);
		int visited = 0;
		while (!next.isEmpty() && visited < MOST_PAGES) {
			String address = next.removeFirst();
			visited++;
			if (!opened.add(kind(address) + " " + scheme)) {
				ask(start, address, problems, kinds, next);
				continue;
			}
			try (var page = start.context().newPage()) {
				var response = page.navigate(address);
				if (response == null || response.status() >= 400) {
					problems.put(address, List.of("answered " + ((response != null) ? response.status() : "nothing")));
					continue;
				}
				collect(page, kinds, next);
				note(problems, page, scheme);
			}
		}
		return visited;
	}

	private static void ask(Page start, String address, Map<String, List<String>> problems, Map<String, String> kinds,
			ArrayDeque<String> next) {
		var answer = start.context().request().get(address);
		if (!answer.ok()) {
			problems.put(address, List.of("answered " + answer.status()));
			return;
		}
		Jsoup.parse(answer.text(), address)
			.select("a[href]")
			.forEach((link) -> collect(link.absUrl("href"), kinds, next));
	}

	private static void note(Map<String, List<String>> problems, Page page, ColorScheme scheme) {
		var found = new ArrayList<String>();
		if (Boolean.TRUE.equals(page.evaluate("document.documentElement.scrollWidth > window.innerWidth + 1"))) {
			found.add("scrolls sideways");
		}
		if (examined.add(kind(page.url()) + " " + scheme)) {
			// the rows of a table are of a kind, and axe takes as long for each
			page.evaluate("document.querySelectorAll('tbody').forEach((body) => "
					+ "[...body.rows].slice(12).forEach((row) => row.remove()))");
			examining.add(page);
			// in the other colours everything but the colours is the same
			found.addAll(
					examined.add(kind(page.url())) ? Chromium.violations(page) : Chromium.violationsOfContrast(page));
		}
		if (!found.isEmpty()) {
			problems.put(page.url(), found);
		}
	}

	private static void collect(Page page, Map<String, String> kinds, ArrayDeque<String> next) {
		for (Object href : (List<?>) page.evaluate("[...document.querySelectorAll('a[href]')].map(a => a.href)")) {
			collect(href.toString(), kinds, next);
		}
	}

	private static void collect(String href, Map<String, String> kinds, ArrayDeque<String> next) {
		String address = href.replaceAll("#.*", "");
		boolean isPage = address.startsWith(service.address("/")) && !address.contains(".csv")
				&& !address.contains("/webjars/") && !address.endsWith(".zip") && !address.endsWith(".ics");
		if (isPage && kinds.putIfAbsent(kind(address), address) == null) {
			next.add(address);
		}
	}

	private static String kind(String address) {
		return IDENTIFIER.matcher(address.replaceAll("\\?.*", "")).replaceAll("{id}");
	}

}
