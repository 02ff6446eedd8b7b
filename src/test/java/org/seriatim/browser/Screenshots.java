package org.seriatim.browser;

import java.nio.file.Path;
import java.util.Map;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Takes the pictures of the documents:
 * {@code mvn -B test -Dtest=Screenshots -Dscreenshots=docs/screenshots}. Not named as a
 * test, so it runs only when asked for.
 */
@EnabledIfSystemProperty(named = "screenshots", matches = ".+", disabledReason = "name a folder by -Dscreenshots")
class Screenshots {

	private static final Map<String, Integer> WIDTHS = Map.of("desktop", 1280, "tablet", 820);

	@TempDir
	Path data;

	@Test
	void ofTheMainPages() {
		var target = Path.of(System.getProperty("screenshots"));
		try (var chromium = Chromium.launch();
				var service = RunningService.start(this.data, "--spring.profiles.active=demo")) {
			for (var scheme : new ColorScheme[] { ColorScheme.LIGHT, ColorScheme.DARK }) {
				WIDTHS.forEach((device, width) -> {
					var suffix = "-" + device + "-" + scheme.name().toLowerCase() + ".png";
					try (var context = chromium.context(width, 1100, scheme)) {
						var page = context.newPage();
						page.navigate(service.address("/sign-in"));
						take(page, target.resolve("sign-in" + suffix));
						page.fill("#name", "l.hagen");
						page.fill("#password", "a series of small steps");
						page.click("main button[type=submit]");
						page.navigate(service.address("/follow-up"));
						take(page, target.resolve("follow-up" + suffix));
						page.navigate(service.address("/outcomes/lumps?group=layer"));
						take(page, target.resolve("lumps" + suffix));
						page.navigate(service.address("/setup/protocol"));
						take(page, target.resolve("protocol" + suffix));
						page.navigate(service.address("/patients"));
						page.fill("#who", "D-00006");
						page.click("main search button[type=submit]");
						page.waitForLoadState();
						take(page, target.resolve("patient" + suffix));
						page.locator("a[href^='/series/']").first().click();
						take(page, target.resolve("series" + suffix));
					}
				});
			}
		}
		assertThat(target.toFile().list()).hasSizeGreaterThanOrEqualTo(24);
	}

	private static void take(Page page, Path file) {
		page.screenshot(new Page.ScreenshotOptions().setPath(file).setFullPage(true));
	}

}
