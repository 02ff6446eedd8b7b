package org.seriatim.browser;

import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Walks the demo clinic from the first page through every link, one page of each kind, as
 * each kind of staff: every page answers, raises no error in the browser (a style or
 * script that the security policy refuses is one), does not scroll sideways, and axe
 * finds no violation in either colour scheme.
 */
class EveryPageTests {

	private static final Pattern IDENTIFIER = Pattern.compile("[0-9a-f]{8}-[0-9a-f-]{27}");

	private static final int MOST_PAGES = 80;

	@TempDir
	static Path data;

	private static Chromium chromium;

	private static RunningService service;

	/**
	 * While axe tries out colours and sizes on the page, the security policy refuses its
	 * styles, not ours.
	 */
	private static boolean examining;

	/** Kinds of page that axe has seen in the colours, whoever was signed in. */
	private static final Set<String> examined = new HashSet<>();

	@BeforeAll
	static void startTheDemo() {
		chromium = Chromium.launch();
		service = RunningService.start(data, "--spring.profiles.active=demo");
	}

	@AfterAll
	static void stopTheDemo() {
		if (service != null) {
			service.close();
		}
		if (chromium != null) {
			chromium.close();
		}
	}

	@ParameterizedTest
	@CsvSource({ "i.sandell, 1280, LIGHT, 12", "i.sandell, 820, DARK, 12", "f.moor, 820, LIGHT, 3",
			"l.hagen, 1280, DARK, 12", "s.ost, 1280, LIGHT, 4", "a.linde, 820, LIGHT, 6" })
	void isWholeAndAccessible(String name, int width, ColorScheme scheme, int fewestPages) {
		try (var context = chromium.context(width, 1100, scheme)) {
			var page = context.newPage();
			var errors = new ArrayList<String>();
			page.onConsoleMessage((message) -> {
				if (message.type().equals("error") && !examining) {
					errors.add(page.url() + ": " + message.text());
				}
			});
			page.onPageError((error) -> errors.add(page.url() + ": " + error));
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

	/** Visits one page of each kind that links lead to. */
	private static int walk(Page page, Map<String, List<String>> problems, ColorScheme scheme) {
		var kinds = new LinkedHashMap<String, String>();
		var next = new ArrayDeque<String>();
		collect(page, kinds, next);
		int visited = 0;
		while (!next.isEmpty() && visited < MOST_PAGES) {
			String address = next.removeFirst();
			var response = page.navigate(address);
			visited++;
			if (response == null || response.status() >= 400) {
				problems.put(address, List.of("answered " + ((response != null) ? response.status() : "nothing")));
				continue;
			}
			note(problems, page, scheme);
			collect(page, kinds, next);
		}
		return visited;
	}

	private static void note(Map<String, List<String>> problems, Page page, ColorScheme scheme) {
		var found = new ArrayList<String>();
		if (examined.add(kind(page.url()) + " " + scheme)) {
			examining = true;
			found.addAll(Chromium.violations(page));
			examining = false;
		}
		if (Boolean.TRUE.equals(page.evaluate("document.documentElement.scrollWidth > window.innerWidth + 1"))) {
			found.add("scrolls sideways");
		}
		if (!found.isEmpty()) {
			problems.put(page.url(), found);
		}
	}

	private static void collect(Page page, Map<String, String> kinds, ArrayDeque<String> next) {
		for (Object href : (List<?>) page.evaluate("[...document.querySelectorAll('a[href]')].map(a => a.href)")) {
			String address = href.toString().replaceAll("#.*", "");
			boolean isPage = address.startsWith(service.address("/")) && !address.contains(".csv")
					&& !address.contains("/webjars/") && !address.endsWith(".zip");
			if (isPage && kinds.putIfAbsent(kind(address), address) == null) {
				next.add(address);
			}
		}
	}

	private static String kind(String address) {
		return IDENTIFIER.matcher(address.replaceAll("\\?.*", "")).replaceAll("{id}");
	}

}
