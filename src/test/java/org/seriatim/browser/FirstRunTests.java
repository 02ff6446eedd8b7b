package org.seriatim.browser;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.assertions.LocatorAssertions;
import com.microsoft.playwright.options.AriaRole;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

/**
 * From an empty folder to a decision: the first visit creates the administrator, who
 * opens an account for the clinic lead, who brings the clinic's records, finds a patient
 * and accepts an advice.
 */
class FirstRunTests {

	private static final String ADMINISTRATORS = "nobody but the console";

	private static final String LEADS = "seven small steps a day";

	@TempDir
	Path folder;

	@Test
	void leadsFromTheSetupCodeToAnAcceptedAdvice() throws IOException {
		try (var chromium = Chromium.launch();
				var service = RunningService.start(this.folder.resolve("data"));
				var context = chromium.desktop()) {
			createTheAdministrator(service, context);
			String invitation = inviteTheLead(service, context);
			context.clearCookies();
			var page = context.newPage();
			chooseAPassword(page, invitation);
			signIn(page, "l.hagen", LEADS);
			SecondFactorSteps.turnOn(page);
			bringTheRecords(service, page);
			acceptAnAdvice(service, page);
		}
	}

	private static void createTheAdministrator(RunningService service, BrowserContext context) {
		var page = context.newPage();
		page.navigate(service.address("/"));
		assertThat(page.getByRole(AriaRole.HEADING, named("The first visit"))).isVisible();
		page.getByLabel("Setup code").fill("0000-0000-0000-0000");
		page.getByLabel("Name").fill("s.ost");
		page.getByLabel("Password").fill(ADMINISTRATORS);
		page.getByRole(AriaRole.BUTTON, button("Create the administrator")).click();
		assertThat(page.locator(".error-summary")).isFocused();
		assertThat(page.locator(".error-summary")).containsText("not the code that the console shows");
		page.getByLabel("Setup code").fill(service.setupCode());
		page.getByLabel("Password").fill(ADMINISTRATORS);
		page.getByRole(AriaRole.BUTTON, button("Create the administrator")).click();
		assertThat(page.getByRole(AriaRole.STATUS).first()).containsText("The administrator is created");
	}

	private static String inviteTheLead(RunningService service, BrowserContext context) {
		var page = context.newPage();
		page.navigate(service.address("/sign-in"));
		signIn(page, "s.ost", ADMINISTRATORS);
		SecondFactorSteps.turnOn(page);
		page.navigate(service.address("/setup/accounts"));
		var form = page.locator("form[action$='/setup/accounts']");
		form.getByLabel("Name").fill("l.hagen");
		form.getByLabel("clinic lead").check();
		form.getByLabel("practitioner").check();
		form.getByRole(AriaRole.BUTTON, new Locator.GetByRoleOptions().setName("Make the invitation")).click();
		return page.locator("#invitation-link").innerText();
	}

	private static void chooseAPassword(Page page, String invitation) {
		page.navigate(invitation);
		assertThat(page.getByRole(AriaRole.HEADING, named("Choose your password"))).isVisible();
		assertThat(page.getByLabel("Code")).not().hasValue("");
		page.getByLabel("New password").fill(LEADS);
		page.getByRole(AriaRole.BUTTON, button("Save the password")).click();
		assertThat(page.getByRole(AriaRole.STATUS).first()).containsText("Your password is saved");
	}

	private void bringTheRecords(RunningService service, Page page) throws IOException {
		page.navigate(service.address("/setup/import"));
		page.locator("input[type=file]").setInputFiles(sampleClinic());
		page.locator("main form button[type=submit]").first().click();
		assertThat(page.getByText("scar_assessments.csv").first())
			.isVisible(new LocatorAssertions.IsVisibleOptions().setTimeout(120_000));
		assertThat(page.locator("main")).containsText("3,192");
	}

	private static void acceptAnAdvice(RunningService service, Page page) {
		page.navigate(service.address("/patients"));
		// an accent missing: she is written with one
		page.getByLabel("Name or record number").fill("Hakonsen Ines");
		page.getByRole(AriaRole.BUTTON, button("Find")).click();
		page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Håkonsen")).first().click();
		page.locator("a[href^='/series/']").first().click();
		var advice = page.locator("#advice");
		assertThat(advice).containsText("21 Dec 2026");
		advice.getByRole(AriaRole.BUTTON, new Locator.GetByRoleOptions().setName("Accept")).click();
		assertThat(page.locator("#decision")).containsText("l.hagen");
	}

	private static void signIn(Page page, String name, String password) {
		page.getByLabel("Name").fill(name);
		page.getByLabel("Password").fill(password);
		page.getByRole(AriaRole.BUTTON, button("Sign in")).click();
	}

	private Path sampleClinic() throws IOException {
		var zip = this.folder.resolve("clinic.zip");
		try (var out = new ZipOutputStream(Files.newOutputStream(zip));
				DirectoryStream<Path> files = Files.newDirectoryStream(Path.of("src/test/resources/sample-clinic"),
						"*.csv")) {
			for (Path file : files) {
				out.putNextEntry(new ZipEntry(file.getFileName().toString()));
				Files.copy(file, out);
			}
		}
		return zip;
	}

	private static Page.GetByRoleOptions named(String heading) {
		return new Page.GetByRoleOptions().setName(heading);
	}

	private static Page.GetByRoleOptions button(String name) {
		return new Page.GetByRoleOptions().setName(name).setExact(true);
	}

}
