package org.seriatim.browser;

import java.util.ArrayList;
import java.util.List;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * The session sheet as it is used at the chair, on the demo clinic: a full session by
 * touch and by keyboard alone, and everything that may come in between. What takes
 * minutes runs in the profile {@code proof} alone.
 */
class ChairTests {

	/** Two in every build, twenty in the profile {@code proof}. */
	private static final int KILLS = Integer.getInteger("chair.kills", 2);

	private static final int SCARS = 20;

	private static final List<String> REGIONS = List.of("temple_right", "temple_left", "cheek_lateral_right",
			"cheek_lateral_left", "nose", "chin");

	private static Chromium chromium;

	private static RunningService service;

	private static String series;

	@BeforeAll
	static void openTheBrowser() {
		chromium = Chromium.launch();
		service = DemoClinic.running();
		try (var context = chromium.desktop()) {
			var page = signedIn(context.newPage(), "l.hagen");
			page.navigate(service.address("/follow-up"));
			series = page.locator("main a[href*='/series/']").first().getAttribute("href").replaceAll("[#?].*", "");
			page.navigate(service.address(series));
			var patient = page.locator("main a[href*='/patients/']")
				.first()
				.getAttribute("href")
				.replaceAll("(/patients/[^/?#]+).*", "$1");
			clear(page, patient);
			for (int i = 0; i < SCARS; i++) {
				page.navigate(service.address(patient + "/scars/new"));
				page.selectOption("[name=region]", REGIONS.get(i / 5));
				page.selectOption("[name=type]", "boxcar");
				page.locator("main button.button--primary").click();
			}
		}
	}

	/** Answers the screening of today with no and records a consent. */
	private static void clear(Page page, String patient) {
		page.navigate(service.address(patient + "/before"));
		page.evaluate("document.querySelectorAll('input[name$=\".answer\"][value=no]')"
				+ ".forEach((answer) => { answer.checked = true; })");
		page.click("text=Keep the answers");
		page.evaluate("document.querySelector('#consent details').open = true");
		page.fill("#documentReference", "C-1");
		page.click("text=Record the consent");
	}

	@AfterAll
	static void closeTheBrowser() {
		if (chromium != null) {
			chromium.close();
		}
	}

	@Test
	@EnabledIfSystemProperty(named = "chair.kills", matches = "20", disabledReason = "takes minutes: profile proof")
	void recordsAFullSessionByTouch() {
		try (var context = chromium.tablet()) {
			var page = signedIn(context.newPage(), "l.hagen");
			var hand = new Touch(page);
			recordAFullSession(page, hand);
		}
	}

	@Test
	@EnabledIfSystemProperty(named = "chair.kills", matches = "20")
	void recordsAFullSessionByKeyboardAlone() {
		try (var context = chromium.context(1280, 900, ColorScheme.DARK)) {
			var page = signedIn(context.newPage(), "l.hagen");
			var hand = new Keyboard(page);
			recordAFullSession(page, hand);
		}
	}

	/** 3 preparations, 6 regions and 20 injections into scars; every volume adds up. */
	private void recordAFullSession(Page page, Hand hand) {
		page.navigate(service.address(series + "/sessions/new"));
		prepare(hand, 0, "1", "0.4");
		hand.press("button[name=change][value=preparation]");
		prepare(hand, 1, "1", "0.4");
		hand.press("button[name=change][value=preparation]");
		prepare(hand, 2, "4.8", "0");

		var first = new ArrayList<Integer>();
		var repeats = new ArrayList<Integer>();
		var scars = 0;
		var regions = 0;
		for (var place : places(page)) {
			var isScar = place.contains(" ");
			if (isScar ? scars == SCARS : !REGIONS.contains(place)) {
				continue;
			}
			var wanted = isScar ? (scars < SCARS / 2 ? "1" : "2") : "3";
			hand.source(wanted);
			hand.reach(place);
			hand.count = 0;
			hand.choose(place);
			if (page.locator("[data-again]").isEnabled()) {
				hand.press("[data-again]");
				repeats.add(hand.count);
			}
			else {
				hand.press("[data-other]");
				enterPattern(hand, isScar ? "3" : "40");
				first.add(hand.count);
			}
			scars += isScar ? 1 : 0;
			regions += isScar ? 0 : 1;
		}
		assertThat(scars).isEqualTo(SCARS);
		assertThat(regions).isEqualTo(REGIONS.size());
		System.out.printf("By %s: actions of a new pattern %s, of a repeat %s%n", hand.getClass().getSimpleName(),
				first, repeats);
		assertThat(repeats).hasSize(SCARS + REGIONS.size() - 2).allMatch((actions) -> actions <= 2);

		page.waitForSelector("[data-save-state][data-state=saved]");
		assertThat(page.textContent("[data-total-figures]")).isEqualTo("In all 300 points, 6.00 of 6.80 mL injected");
		hand.press("#checks [name=vesselsSeen]:not([type=hidden])");
		page.waitForSelector("[data-save-state][data-state=saved]");
		assertThat(Chromium.violations(page)).isEmpty();
		page.evaluate("document.body.dataset.before = true");
		hand.press("form[data-session-sheet] > .actions .button--primary");
		page.waitForSelector("body:not([data-before]) h1");
		assertThat(page.url()).matches(".*/sessions/[0-9a-f-]{36}");
		assertThat(page.locator(".error-summary").allInnerTexts()).isEmpty();
		assertThat(page.textContent("main")).contains("Adds up", "In all 300 points, 6.00 of 6.80 mL injected")
			.doesNotContain("Does not add up");
		assertThat(page.locator("main table").last().locator("tbody tr"))
			.satisfies((rows) -> assertThat(rows.count()).isEqualTo(SCARS + REGIONS.size()));
	}

	private static void prepare(Hand hand, int index, String drawn, String discarded) {
		var path = "[name='preparations[" + index + "].";
		hand.type(path + "product']", "poly-D,L-lactic acid");
		hand.type(path + "vialMg']", "200");
		hand.type(path + "diluentMl']", "5");
		hand.type(path + "stockDrawnMl']", drawn);
		hand.type(path + "addedDiluentMl']", "0");
		hand.type(path + "lidocaineMl']", "0");
		hand.type(path + "discardedMl']", discarded);
	}

	private static void enterPattern(Hand hand, String points) {
		hand.select(".entry-row--open [name$='.layer']", "mid_dermis", "mid");
		hand.type(".entry-row--open [name$='.points']", points);
		hand.type(".entry-row--open [name$='.pointMl']", "0.02");
		hand.press(".entry-row--open [data-done]");
	}

	@SuppressWarnings("unchecked")
	private static List<String> places(Page page) {
		return (List<String>) page
			.evaluate("[...document.querySelectorAll('[data-places] [data-place]')].map((one) => one.dataset.place)");
	}

	@Test
	@EnabledIfSystemProperty(named = "chair.kills", matches = "20")
	void showsTheCautionAboutDepthBeforeTheNextArea() {
		try (var context = chromium.tablet()) {
			var page = signedIn(context.newPage(), "l.hagen");
			page.navigate(service.address(series + "/sessions/new"));
			var hand = new Touch(page);
			hand.choose("chin");
			hand.press("[data-other]");
			page.locator(".entry-row--open [name$='.blanching'][value=false]").check();
			assertThat(page.isVisible("[data-caution]")).isFalse();
			hand.press(".entry-row--open [data-done]");
			hand.choose("nose");
			hand.press("[data-other]");
			page.locator(".entry-row--open [name$='.blanching'][value=false]").check();
			hand.press(".entry-row--open [data-done]");
			hand.choose("glabella");
			assertThat(page.textContent("[data-caution]")).contains("the needle may lie too deep");
			hand.press("[data-caution-seen]");
			assertThat(page.isVisible("[data-caution]")).isFalse();
			page.waitForSelector("#checks >> text=no blanching at the tip, in a region with vessels");
		}
	}

	@Test
	@EnabledIfSystemProperty(named = "chair.kills", matches = "20")
	void goesOnTryingWithoutAConnection() {
		try (var context = chromium.tablet()) {
			var page = signedIn(context.newPage(), "l.hagen");
			page.navigate(service.address(series + "/sessions/new"));
			page.fill("#weightKg", "61");
			page.waitForSelector("[data-save-state][data-state=saved]");
			context.setOffline(true);
			page.fill("#painNrs", "4");
			page.waitForSelector("[data-save-state][data-state=trouble]");
			assertThat(page.textContent("[data-save-trouble]")).contains("keep this page open");
			context.setOffline(false);
			page.waitForSelector("[data-save-state][data-state=saved]");
			page.reload();
			assertThat(page.inputValue("#weightKg")).isEqualTo("61");
			assertThat(page.inputValue("#painNrs")).isEqualTo("4");
		}
	}

	@Test
	@EnabledIfSystemProperty(named = "chair.kills", matches = "20")
	void laysBothVersionsSideBySideWhenTwoPeopleWriteOneDraft() {
		try (var context = chromium.tablet(); var other = chromium.desktop()) {
			var chair = signedIn(context.newPage(), "l.hagen");
			chair.navigate(service.address(series + "/sessions/new"));
			chair.fill("#weightKg", "61");
			chair.waitForSelector("[data-save-state][data-state=saved]");
			var desk = signedIn(other.newPage(), "a.linde");
			desk.navigate(chair.url());
			desk.fill("#topicalMinutes", "40");
			desk.waitForSelector("[data-save-state][data-state=saved]");
			chair.fill("#weightKg", "62");
			chair.waitForSelector("[data-save-compare]:visible");
			chair.click("[data-save-compare]");
			assertThat(chair.textContent("main")).contains("a.linde", "62", "40");
			chair.locator("main button.button--primary").click();
			assertThat(chair.inputValue("#weightKg")).isEqualTo("62");
			assertThat(chair.inputValue("#topicalMinutes")).isEqualTo("40");
			chair.waitForSelector("[data-save-state][data-state=saved]");
		}
	}

	@Test
	@EnabledIfSystemProperty(named = "chair.kills", matches = "20")
	void keepsWhatWasTypedOverTheEndOfTheSignIn() {
		try (var context = chromium.tablet()) {
			var page = signedIn(context.newPage(), "l.hagen");
			page.navigate(service.address(series + "/sessions/new"));
			page.fill("#weightKg", "61");
			page.waitForSelector("[data-save-state][data-state=saved]");
			var address = page.url();
			context.clearCookies();
			page.fill("#painNrs", "7");
			page.waitForURL("**/sign-in**");
			signIn(page, "l.hagen");
			page.waitForSelector("#painNrs");
			assertThat(page.inputValue("#painNrs")).isEqualTo("7");
			page.waitForSelector("[data-save-state][data-state=saved]");
			page.navigate(address);
			assertThat(page.inputValue("#painNrs")).isEqualTo("7");
		}
	}

	/**
	 * At each point the service is killed while something was typed that is not shown as
	 * saved. Whoever opens the draft afterwards finds everything that was; the page that
	 * stayed open brings the rest as well.
	 */
	@Test
	void losesNothingThatWasShownAsSavedWhenTheServiceIsKilled() throws InterruptedException {
		try (var context = chromium.tablet(); var later = chromium.desktop()) {
			var page = signedIn(context.newPage(), "l.hagen");
			page.navigate(service.address(series + "/sessions/new"));
			var hand = new Touch(page);
			for (int point = 1; point <= KILLS; point++) {
				hand.choose(places(page).get(point - 1));
				hand.press("[data-other]");
				enterPattern(hand, String.valueOf(point));
				page.waitForSelector("[data-save-state][data-state=saved]");
				page.fill("#instructions", "said at point " + point);
				DemoClinic.killAndStartAgain(() -> page.waitForSelector("[data-save-state][data-state=trouble]"));

				var found = signedIn(later.newPage(), "l.hagen");
				found.navigate(page.url());
				for (int entry = 1; entry <= point; entry++) {
					assertThat(found.locator("[name$='.points']").nth(entry - 1).inputValue())
						.isEqualTo(String.valueOf(entry));
				}
				page.waitForSelector("[data-save-state][data-state=saved]");
				found.reload();
				assertThat(found.inputValue("#instructions")).isEqualTo("said at point " + point);
				found.close();
			}
		}
	}

	private static Page signedIn(Page page, String name) {
		page.setDefaultTimeout(60_000);
		page.navigate(service.address("/sign-in"));
		return signIn(page, name);
	}

	private static Page signIn(Page page, String name) {
		page.fill("#name", name);
		page.fill("#password", "a series of small steps");
		page.click("main button[type=submit]");
		return page;
	}

	/** How somebody works; every touch of the screen or of a key is an action. */
	private abstract static class Hand {

		final Page page;

		int count;

		Hand(Page page) {
			this.page = page;
		}

		abstract void press(String control);

		abstract void type(String field, String text);

		abstract void select(String field, String value, String typed);

		abstract void reach(String place);

		void choose(String place) {
			press("[data-places] [data-place='" + place + "']");
		}

		void source(String preparation) {
			var button = "[data-source='" + preparation + "']";
			if (!"true".equals(this.page.getAttribute(button, "aria-pressed"))) {
				press(button);
			}
		}

	}

	private static final class Touch extends Hand {

		Touch(Page page) {
			super(page);
		}

		@Override
		void press(String control) {
			this.page.locator(control).first().tap();
			this.count++;
		}

		@Override
		void type(String field, String text) {
			this.page.locator(field).tap();
			this.page.locator(field).fill(text);
			this.count += 1 + text.length();
		}

		@Override
		void select(String field, String value, String typed) {
			this.page.locator(field).selectOption(value);
			this.count += 2;
		}

		@Override
		void reach(String place) {
			// a finger is there at once
		}

	}

	/** Nothing but keys: what cannot be reached with them fails. */
	private static final class Keyboard extends Hand {

		private static final int FAR = 400;

		Keyboard(Page page) {
			super(page);
		}

		private void key(String key) {
			this.page.keyboard().press(key);
			this.count++;
		}

		private boolean isThere(Locator control) {
			return (boolean) control.evaluate("(one) => one === document.activeElement");
		}

		private void go(String control) {
			var wanted = this.page.locator(control).first();
			for (int steps = 0; !isThere(wanted); steps++) {
				assertThat(steps).as("%s is reached by the tab key", control).isLessThan(FAR);
				key("Tab");
			}
		}

		@Override
		void press(String control) {
			go(control);
			key(control.contains("name=vesselsSeen") ? "Space" : "Enter");
		}

		@Override
		void type(String field, String text) {
			go(field);
			this.page.keyboard().type(text);
			this.count += text.length();
		}

		@Override
		void select(String field, String value, String typed) {
			go(field);
			this.page.keyboard().type(typed);
			this.count += typed.length();
			assertThat(this.page.inputValue(field)).isEqualTo(value);
		}

		@Override
		void reach(String place) {
			var wanted = this.page.locator("[data-places] [data-place='" + place + "']");
			if (!isThere(wanted)) {
				go("[data-places] [tabindex='0']");
			}
			for (int steps = 0; !isThere(wanted); steps++) {
				assertThat(steps).as("%s is reached by the arrow keys", place).isLessThan(FAR);
				key("ArrowDown");
			}
		}

	}

}
