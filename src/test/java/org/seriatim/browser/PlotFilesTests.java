package org.seriatim.browser;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;

import javax.imageio.ImageIO;

import com.microsoft.playwright.Page;
import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;

class PlotFilesTests {

	/** By keyboard, as a drawing and as an image, without a breach of the policy. */
	@Test
	void aPlotIsSavedByKeyboardAsSvgAndPng() throws IOException {
		var service = DemoClinic.running();
		try (var chromium = Chromium.launch(); var context = chromium.desktop()) {
			var page = context.newPage();
			var complaints = new ArrayList<String>();
			page.onConsoleMessage((message) -> {
				if (message.type().equals("error")) {
					complaints.add(message.text());
				}
			});
			page.navigate(service.address("/sign-in"));
			page.fill("#name", "l.hagen");
			page.fill("#password", "a series of small steps");
			page.click("main button[type=submit]");
			page.waitForURL((url) -> !url.contains("/sign-in"));
			page.navigate(service.address("/outcomes/improvement"));
			page.locator("[data-plot-file=svg]").first().waitFor();

			var drawing = Files.readString(saved(page, "svg"), StandardCharsets.UTF_8);
			assertThat(drawing).startsWith("<svg")
				.contains("<title>")
				.contains("Improvement in percent")
				.doesNotContain("var(--");

			var image = ImageIO.read(saved(page, "png").toFile());
			assertThat(image.getWidth()).isGreaterThan(600);
			assertThat(coloursOf(image)).isGreaterThan(3);
			assertThat(complaints).isEmpty();
		}
	}

	private static Path saved(Page page, String kind) {
		var button = page.locator("[data-plot-file=" + kind + "]").first();
		var download = page.waitForDownload(() -> {
			button.focus();
			page.keyboard().press("Enter");
		});
		assertThat(download.suggestedFilename()).endsWith("." + kind);
		return download.path();
	}

	private static long coloursOf(java.awt.image.BufferedImage image) {
		return java.util.stream.IntStream.range(0, image.getHeight())
			.flatMap((y) -> java.util.stream.IntStream.range(0, image.getWidth()).map((x) -> image.getRGB(x, y)))
			.distinct()
			.count();
	}

}
