package org.seriatim.browser;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Two people at two screens correct one patient of the demo clinic: neither loses
 * anything.
 */
class TwoPeopleTests {

	private static Chromium chromium;

	private static RunningService service;

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

	@Test
	void keepWhatEachOfThemChanged() {
		try (var desk = chromium.context(1280, 1000, ColorScheme.LIGHT);
				var room = chromium.context(820, 1100, ColorScheme.DARK)) {
			var first = signedIn(desk.newPage(), "f.moor");
			var second = signedIn(room.newPage(), "i.sandell");
			first.navigate(service.address("/follow-up"));
			var patient = first.locator("main a[href*='/patients/']").first().getAttribute("href");
			first.navigate(service.address(patient + "/edit"));
			second.navigate(service.address(patient + "/edit"));
			first.fill("#phone", "+00 555 0142");
			first.fill("#reason", "new number");
			first.locator("main button.button--primary").click();
			second.fill("#email", "new@example.org");
			second.fill("#reason", "told at the visit");
			second.locator("main button.button--primary").click();
			assertThat(second.locator("h1").textContent()).isEqualTo("Somebody changed this while you were writing");
			assertThat(second.locator("main").textContent()).contains("saved by f.moor", "+00 555 0142",
					"new@example.org", "the other person", "you");
			assertThat(Chromium.violations(second)).isEmpty();
			second.locator("main button.button--primary").click();
			assertThat(second.locator("main").textContent()).contains("Nothing is saved yet");
			assertThat(second.inputValue("#phone")).isEqualTo("+00 555 0142");
			assertThat(second.inputValue("#email")).isEqualTo("new@example.org");
			second.locator("main button.button--primary").click();
			first.navigate(service.address(patient + "/edit"));
			assertThat(first.inputValue("#phone")).isEqualTo("+00 555 0142");
			assertThat(first.inputValue("#email")).isEqualTo("new@example.org");
		}
	}

	private static Page signedIn(Page page, String name) {
		page.navigate(service.address("/sign-in"));
		page.fill("#name", name);
		page.fill("#password", "a series of small steps");
		page.click("main button[type=submit]");
		return page;
	}

}
