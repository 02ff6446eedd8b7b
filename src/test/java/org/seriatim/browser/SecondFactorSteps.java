package org.seriatim.browser;

import java.time.Clock;
import java.time.Duration;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import org.seriatim.support.CodeApp;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

/** What somebody with a telephone does on the page of the second factor. */
final class SecondFactorSteps {

	private SecondFactorSteps() {
	}

	/** Sets it up on the page that is open, and keeps the recovery codes. */
	static CodeApp turnOn(Page page) {
		assertThat(page.getByRole(AriaRole.HEADING, new Page.GetByRoleOptions().setName("Second factor").setLevel(1)))
			.isVisible();
		var app = CodeApp.reading(page.locator("#second-factor-secret").innerText());
		page.getByLabel("Code of six figures").fill(app.code(Clock.systemUTC()));
		page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Turn it on")).click();
		assertThat(page.locator("#recovery-codes li")).hasCount(10);
		page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("I have kept them")).click();
		return app;
	}

	/** The code of the next step, since that of this one may have been used. */
	static String nextCode(CodeApp app) {
		return app.code(Clock.systemUTC(), Duration.ofSeconds(30));
	}

}
