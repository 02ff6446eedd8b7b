package org.seriatim.access.web;

import java.time.Duration;
import java.util.List;
import java.util.Set;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.AccountRegister;
import org.seriatim.access.Role;
import org.seriatim.support.CodeApp;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import static org.assertj.core.api.Assertions.assertThat;

/** What becomes of what was typed when the sign-in is over, or has to be confirmed. */
@PageTest
class ExpiryPageTests {

	private static final String PASSWORD = "small steps on a long way";

	private static final String NEW_PATIENT = "/patients/new";

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private AccountRegister accounts;

	@Autowired
	private JdbcClient database;

	@Autowired
	private TestClock clock;

	@BeforeEach
	void openAccounts() {
		this.accounts.open("i.sandell", Set.of(Role.PRACTITIONER), PASSWORD);
		this.accounts.open("f.moor", Set.of(Role.FRONT_DESK), PASSWORD);
	}

	@Test
	void givesAFormBackFilledAndRecordsItWhenItIsSentAgain() {
		var visitor = typedAfterTheEnd();
		assertThat(visitor.leadsTo()).startsWith("/sign-in");
		assertThat(visitor.follow().text()).contains("What you typed is kept");

		visitor.send("/sign-in", "name", "i.sandell", "password", PASSWORD);
		assertThat(visitor.leadsTo()).isEqualTo("/kept-form");
		visitor.follow().send(NEW_PATIENT);
		assertThat(visitor.status()).isEqualTo(422);
		assertThat(visitor.text()).contains("This is not recorded yet: your sign-in had ended");
		assertThat(visitor.page().selectFirst("[name=familyName]").val()).isEqualTo("Ärmel, \"Jo\"");
		assertThat(patients()).isZero();

		visitor.send(NEW_PATIENT, "recordNumber", "K-1", "familyName", "Ärmel, \"Jo\"");
		assertThat(visitor.status()).isEqualTo(302);
		assertThat(patients()).isEqualTo(1);
		assertThat(visitor.open("/kept-form").leadsTo()).as("nothing is kept any more").isEqualTo("/");
	}

	@Test
	void givesItToNobodyElseAndThrowsItAway() {
		var visitor = typedAfterTheEnd().follow();
		visitor.send("/sign-in", "name", "f.moor", "password", PASSWORD);
		assertThat(visitor.leadsTo()).isEqualTo("/");
		assertThat(visitor.open("/kept-form").leadsTo()).isEqualTo("/");
		var back = visitor.signIn("i.sandell", PASSWORD);
		assertThat(back.leadsTo()).isEqualTo("/");
		assertThat(this.database.sql("select count(*) from spring_session_attributes where attribute_name = 'keptForm'")
			.query(Long.class)
			.single()).isZero();
	}

	@Test
	void keepsNothingThatWasNotTypedOnAPageOfTheService() {
		var visitor = visitor().open("/sign-in");
		var form = visitor.form("/sign-in");
		form.put("_owner", List.of("01980000-0000-7000-8000-000000000000.forged"));
		visitor.forgetSession().send(form, NEW_PATIENT, "familyName", "Planted");
		assertThat(visitor.leadsTo()).startsWith("/sign-in");
		assertThat(visitor.signIn("i.sandell", PASSWORD).leadsTo()).isEqualTo("/");
	}

	@Test
	void keepsNoPassword() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow().open("/password");
		var form = visitor.form("/password");
		visitor.forgetSession().send(form, "/password", "current", PASSWORD, "password", "another secret of mine");
		assertThat(visitor.signIn("i.sandell", PASSWORD).leadsTo()).isEqualTo("/");
	}

	@Test
	void losesNothingWhereSomebodySignedInAgainMeanwhile() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow().open(NEW_PATIENT);
		var form = visitor.form(NEW_PATIENT);
		visitor.signIn("i.sandell", PASSWORD).follow();
		assertThat(visitor.send(form, NEW_PATIENT, "recordNumber", "K-1", "familyName", "Weiss").leadsTo())
			.isEqualTo("/kept-form");
		visitor.follow().send(NEW_PATIENT);
		assertThat(visitor.page().selectFirst("[name=familyName]").val()).isEqualTo("Weiss");
		assertThat(patients()).isZero();
	}

	@Test
	void refusesSomebodyElsesForm() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow().open(NEW_PATIENT);
		var form = visitor.form(NEW_PATIENT);
		visitor.signIn("f.moor", PASSWORD).follow();
		assertThat(visitor.send(form, NEW_PATIENT, "recordNumber", "K-1").status()).isEqualTo(403);
		assertThat(visitor.open("/kept-form").leadsTo()).isEqualTo("/");
	}

	@Test
	void actsOnNothingThatNobodySent() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow().open("/tokens");
		visitor.send("/tokens", "_unsent", "true");
		assertThat(visitor.leadsTo()).isEqualTo("/");
		assertThat(this.database.sql("select count(*) from api_token").query(Long.class).single()).isZero();
	}

	@Test
	void tellsAPartOfAPageThatTheSignInIsOverAndLeavesThePageAsItIs() {
		var answer = this.pages.post().uri("/patients/search").header("HX-Request", "true").exchange();
		assertThat(answer).hasStatus(401).doesNotContainHeader("HX-Refresh");
	}

	@Test
	void asksAgainWhoItIsBeforeWhatCannotBeTakenBackAndGoesOn() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow();
		this.clock.advance(Duration.ofMinutes(5).plusSeconds(1));
		assertThat(visitor.open("/tokens").status()).isEqualTo(200);
		assertThat(visitor.send("/tokens").leadsTo()).isEqualTo("/confirm");
		assertThat(tokens()).isZero();
		visitor.follow();
		assertThat(visitor.send("/confirm", "password", "not this one at all").status()).isEqualTo(422);
		assertThat(visitor.send("/confirm", "password", PASSWORD).leadsTo()).isEqualTo("/kept-form");
		visitor.follow().send("/tokens");
		assertThat(visitor.page().select("#made-token").text()).isNotEmpty();
		assertThat(tokens()).isEqualTo(1);
		assertThat(visitor.open("/tokens").send("/tokens").status()).as("within five minutes").isEqualTo(200);
	}

	@Test
	void leadsBackToThePageForWhichItAsked() {
		this.accounts.open("l.hagen", Set.of(Role.CLINIC_LEAD), PASSWORD);
		var visitor = visitor().signIn("l.hagen", PASSWORD).follow();
		var app = CodeApp.reading(visitor.page().select("#second-factor-secret").text());
		visitor.send("/account/second-factor", "code", app.code(this.clock));
		assertThat(visitor.open("/setup/export").status()).isEqualTo(200);
		this.clock.advance(Duration.ofMinutes(6));
		assertThat(visitor.open("/follow-up").page().select("a[href=/setup/import]").size()
				+ visitor.open("/setup/protocol").page().select("a[href=/setup/export]").size())
			.as("the way there stays in the navigation")
			.isPositive();
		assertThat(visitor.open("/setup/export").leadsTo()).isEqualTo("/confirm");
		visitor.follow().send("/confirm", "code", app.code(this.clock));
		assertThat(visitor.leadsTo()).startsWith("/setup/export");
		assertThat(visitor.follow().status()).isEqualTo(200);
	}

	@Test
	void slowsGuessingAtTheConfirmationDown() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow().open("/confirm");
		for (int guess = 1; guess <= 6; guess++) {
			visitor.send("/confirm", "password", "guess number " + guess);
		}
		assertThat(visitor.send("/confirm", "password", PASSWORD).status()).isEqualTo(429);
	}

	@Test
	void tellsThePageWhenTheSignInEnds() {
		var page = visitor().signIn("i.sandell", PASSWORD).follow().open("/follow-up").page();
		var dialog = page.selectFirst("dialog#leaving");
		assertThat(dialog.attr("data-idle")).isEqualTo("1800");
		assertThat(dialog.attr("data-warning")).isEqualTo("120");
		assertThat(Long.parseLong(dialog.attr("data-ends")))
			.isEqualTo(TestClock.START.plus(Duration.ofHours(12)).toEpochMilli());
	}

	private Visitor typedAfterTheEnd() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow().open(NEW_PATIENT);
		var form = visitor.form(NEW_PATIENT);
		return visitor.forgetSession().send(form, NEW_PATIENT, "recordNumber", "K-1", "familyName", "Ärmel, \"Jo\"");
	}

	private long patients() {
		return this.database.sql("select count(*) from patient").query(Long.class).single();
	}

	private long tokens() {
		return this.database.sql("select count(*) from api_token").query(Long.class).single();
	}

	private Visitor visitor() {
		return new Visitor(this.pages, "192.0.2.10");
	}

}
