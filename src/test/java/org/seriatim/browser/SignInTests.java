package org.seriatim.browser;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.ColorScheme;
import org.assertj.core.api.Assertions;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

/** Signing in, staying signed in and being signed out, as people meet it in a browser. */
class SignInTests {

	private static final String PASSWORD = "a series of small steps";

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
	void asksForACodeOfTheAppOnceASecondFactorIsOn() {
		try (var context = chromium.desktop(); var other = chromium.desktop()) {
			var page = signedIn(context, "m.tarrow");
			page.navigate(service.address("/account/second-factor"));
			assertAccessible(page);
			var app = SecondFactorSteps.turnOn(page);

			var second = signedIn(other, "m.tarrow");
			assertThat(second.getByRole(AriaRole.HEADING, named("Second factor"))).isVisible();
			second.navigate(service.address("/follow-up"));
			assertThat(second.getByRole(AriaRole.HEADING, named("Second factor"))).isVisible();
			second.getByLabel("Code").fill("000000");
			second.getByRole(AriaRole.BUTTON, button("Sign in")).click();
			assertThat(second.locator(".error-summary")).isFocused();
			second.getByLabel("Code").fill(SecondFactorSteps.nextCode(app));
			second.getByRole(AriaRole.BUTTON, button("Sign in")).click();
			assertThat(second).hasURL(service.address("/follow-up?continue"));
		}
	}

	@Test
	void warnsBeforeTheEndAndKeepsWhatWasTypedOverIt() {
		try (var context = chromium.desktop()) {
			var page = context.newPage();
			page.clock().install();
			signIn(page, "i.sandell");
			page.navigate(service.address("/patients/new"));
			page.getByLabel("Family name").fill("Half-typed, \"with marks\"");

			page.clock().fastForward("28:10");
			var dialog = page.getByRole(AriaRole.DIALOG);
			assertThat(dialog).containsText("Are you still there?");
			assertAccessible(page);
			dialog.getByRole(AriaRole.BUTTON).first().click();
			assertThat(dialog).isHidden();
			assertThat(page.getByLabel("Family name")).hasValue("Half-typed, \"with marks\"");

			context.clearCookies(new BrowserContext.ClearCookiesOptions().setName(sessionCookie(context)));
			page.clock().fastForward("30:15");
			assertThat(page.getByText("What you typed is kept")).isVisible();
			assertThat(page.locator("body")).not().containsText("Half-typed");

			signInHere(page, "i.sandell");
			assertThat(page.locator(".error-summary")).containsText("This is not recorded yet");
			assertThat(page.getByLabel("Family name")).hasValue("Half-typed, \"with marks\"");
			page.getByLabel("Record number").fill("T-1");
			page.locator("main form button[type=submit]").first().click();
			assertThat(page.getByRole(AriaRole.HEADING, named("Half-typed"))).isVisible();
		}
	}

	@Test
	void showsNobodyElseWhatWasTyped() {
		try (var context = chromium.desktop()) {
			var page = context.newPage();
			page.clock().install();
			signIn(page, "i.sandell");
			page.navigate(service.address("/patients/new"));
			page.getByLabel("Family name").fill("Notforeverybody");
			context.clearCookies(new BrowserContext.ClearCookiesOptions().setName(sessionCookie(context)));
			page.clock().fastForward("31:00");
			assertThat(page.getByText("What you typed is kept")).isVisible();
			signInHere(page, "f.moor");
			assertThat(page.locator("main h1")).isVisible();
			assertThat(page.locator("body")).not().containsText("Notforeverybody");
			page.navigate(service.address("/kept-form"));
			assertThat(page.locator("body")).not().containsText("Notforeverybody");
		}
	}

	@Test
	void endsTheOtherSignInsFromThePageOfTheAccount() {
		try (var here = chromium.desktop(); var there = chromium.desktop()) {
			var page = signedIn(here, "o.brisk");
			var other = signedIn(there, "o.brisk");
			assertThat(other.locator(".account__name")).hasText("o.brisk");
			page.navigate(service.address("/account"));
			assertAccessible(page);
			page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("End the sign-in of")).first().click();
			assertThat(page.getByRole(AriaRole.STATUS).first()).containsText("That sign-in has ended");
			other.navigate(service.address("/follow-up"));
			assertThat(other.getByRole(AriaRole.HEADING, named("Sign in").setExact(true))).isVisible();
		}
	}

	/* Somebody at the desk, nobody else in the house; afterwards a lead looks at it. */
	@Test
	void opensOneRecordInAnEmergencyUntilItIsEndedAndLetsALeadReviewIt() {
		try (var desk = chromium.context(820, 1100, ColorScheme.LIGHT); var office = chromium.desktop()) {
			var page = signedIn(desk, "f.moor");
			page.navigate(service.address("/follow-up"));
			var patient = page.locator("main a[href*='/patients/']").first().getAttribute("href");
			page.navigate(service.address(patient));
			assertThat(page.locator("main a[href*='/series/']")).hasCount(0);
			page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Emergency access").setExact(true))
				.last()
				.click();
			assertThat(page.getByLabel("Record number")).not().hasValue("");
			assertAccessible(page);
			page.getByRole(AriaRole.BUTTON, button("Open the record")).click();
			assertThat(page.locator(".error-summary")).containsText("Say why it cannot wait.");
			page.getByLabel("Reason").fill("Swollen face, nobody else in the house");
			page.getByLabel("I open this record").check();
			page.getByRole(AriaRole.BUTTON, button("Open the record")).click();

			assertThat(page).hasURL(service.address(patient));
			var notice = page.getByRole(AriaRole.COMPLEMENTARY,
					new Page.GetByRoleOptions().setName("Emergency access").setExact(true));
			assertThat(notice).containsText("You can read, and everything you open is kept");
			page.locator("main a[href*='/series/']").first().click();
			assertThat(page.getByRole(AriaRole.HEADING, named("Tracked scars"))).isVisible();
			assertThat(notice).isVisible();
			assertAccessible(page);
			var series = page.url();

			var lead = signedIn(office, "l.hagen");
			lead.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Review").setExact(true)).click();
			assertThat(lead.locator("main")).containsText("Swollen face, nobody else in the house");
			assertThat(lead.locator("main")).containsText(series.replaceFirst("^.*?(/series/)", "$1"));
			assertAccessible(lead);
			lead.getByText("the reason held").first().click();
			lead.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Record the review of")).click();
			assertThat(lead.locator("main")).containsText("Nothing waits for a review");
			assertThat(lead.locator("main")).containsText("Reviewed by l.hagen");

			notice.getByRole(AriaRole.BUTTON).click();
			assertThat(page.getByRole(AriaRole.STATUS).first()).containsText("The emergency access has ended");
			assertThat(notice).hasCount(0);
			Assertions.assertThat(page.navigate(series).status()).isEqualTo(403);
		}
	}

	private static void assertAccessible(Page page) {
		Assertions.assertThat(Chromium.violations(page)).isEmpty();
	}

	private static Page signedIn(BrowserContext context, String name) {
		var page = context.newPage();
		signIn(page, name);
		return page;
	}

	private static void signIn(Page page, String name) {
		page.navigate(service.address("/sign-in"));
		signInHere(page, name);
	}

	private static void signInHere(Page page, String name) {
		page.getByLabel("Name").fill(name);
		page.getByLabel("Password").fill(PASSWORD);
		page.getByRole(AriaRole.BUTTON, button("Sign in")).click();
	}

	private static String sessionCookie(BrowserContext context) {
		return context.cookies()
			.stream()
			.map((cookie) -> cookie.name)
			.filter((name) -> !name.equals("seriatim-device"))
			.findFirst()
			.orElseThrow();
	}

	private static Page.GetByRoleOptions named(String heading) {
		return new Page.GetByRoleOptions().setName(heading);
	}

	private static Page.GetByRoleOptions button(String name) {
		return new Page.GetByRoleOptions().setName(name).setExact(true);
	}

}
