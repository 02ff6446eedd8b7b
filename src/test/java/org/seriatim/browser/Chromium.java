package org.seriatim.browser;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.deque.html.axecore.results.Rule;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import com.microsoft.playwright.options.ColorScheme;
import org.junit.jupiter.api.Assumptions;

/**
 * The machine's own Chromium; without one the tests that need it are skipped and say so.
 */
final class Chromium implements AutoCloseable {

	private static final List<String> PLACES = List.of("/usr/bin/chromium", "/usr/bin/chromium-browser",
			"/usr/bin/google-chrome", "/Applications/Chromium.app/Contents/MacOS/Chromium");

	/** Nothing of the browser's own may leave the machine or wait for an answer. */
	private static final List<String> ARGUMENTS = List.of("--no-sandbox", "--disable-gpu", "--disable-quic",
			"--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync");

	private final Playwright playwright;

	private final Browser browser;

	private Chromium(Playwright playwright, Browser browser) {
		this.playwright = playwright;
		this.browser = browser;
	}

	/**
	 * A busy machine is slow, not wrong; what is right is there at once and waits for
	 * nothing.
	 */
	private static final int PATIENCE = 60_000;

	static Chromium launch() {
		PlaywrightAssertions.setDefaultAssertionTimeout(PATIENCE);
		var executable = executable();
		Assumptions.assumeTrue(executable.isPresent(),
				"No Chromium on this machine; install it or name it by -Dchromium=PATH");
		var playwright = Playwright
			.create(new Playwright.CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
		return new Chromium(playwright,
				playwright.chromium()
					.launch(new BrowserType.LaunchOptions().setExecutablePath(executable.get())
						.setArgs(ARGUMENTS)
						.setHeadless(true)));
	}

	private static Optional<Path> executable() {
		return Stream.concat(Stream.ofNullable(System.getProperty("chromium")), PLACES.stream())
			.map(Path::of)
			.filter(Files::isExecutable)
			.findFirst();
	}

	BrowserContext desktop() {
		return context(1280, 900, ColorScheme.LIGHT);
	}

	BrowserContext context(int width, int height, ColorScheme scheme) {
		var context = this.browser.newContext(new Browser.NewContextOptions().setViewportSize(width, height)
			.setColorScheme(scheme)
			.setLocale("en-GB"));
		context.setDefaultTimeout(PATIENCE);
		return context;
	}

	/** A tablet held upright, worked on with a finger. */
	BrowserContext tablet() {
		return this.browser.newContext(new Browser.NewContextOptions().setViewportSize(820, 1180)
			.setHasTouch(true)
			.setColorScheme(ColorScheme.LIGHT)
			.setLocale("en-GB"));
	}

	/**
	 * What axe finds wrong on the page, in a form that says where; empty when nothing.
	 */
	static List<String> violations(Page page) {
		return violations(new AxeBuilder(page));
	}

	/** The same, as far as the colours alone decide it. */
	static List<String> violationsOfContrast(Page page) {
		return violations(new AxeBuilder(page).withRules(List.of("color-contrast")));
	}

	/* What the other mode opens a page of its own for are frames, which no page has. */
	@SuppressWarnings("deprecation")
	private static List<String> violations(AxeBuilder axe) {
		return axe.setLegacyMode(true).analyze().getViolations().stream().map(Chromium::describe).toList();
	}

	private static String describe(Rule rule) {
		return rule.getId() + ": " + rule.getHelp() + " at "
				+ rule.getNodes().stream().limit(3).map((node) -> node.getHtml()).toList();
	}

	@Override
	public void close() {
		this.browser.close();
		this.playwright.close();
	}

}
