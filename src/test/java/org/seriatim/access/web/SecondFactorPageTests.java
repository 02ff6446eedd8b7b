package org.seriatim.access.web;

import java.time.Duration;
import java.util.HexFormat;
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

@PageTest
class SecondFactorPageTests {

	private static final String PASSWORD = "small steps on a long way";

	private static final String PAGE = "/account/second-factor";

	private static final String CODE = "/sign-in/code";

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
		this.accounts.open("l.hagen", Set.of(Role.CLINIC_LEAD), PASSWORD);
		this.accounts.open("i.sandell", Set.of(Role.PRACTITIONER), PASSWORD);
	}

	@Test
	void letsALeadDoNothingBeforeThereIsOne() {
		var lead = visitor().signIn("l.hagen", PASSWORD).follow();
		assertThat(lead.heading()).isEqualTo("Second factor");
		for (String path : List.of("/follow-up", "/setup/export", "/tokens", "/account", "/confirm")) {
			assertThat(lead.open(path).leadsTo()).as(path).isEqualTo(PAGE);
		}
		var app = turnOn(lead);
		assertThat(lead.open("/follow-up").status()).isEqualTo(200);

		var again = visitor().signIn("l.hagen", PASSWORD);
		assertThat(again.leadsTo()).isEqualTo(CODE);
		for (String path : List.of("/follow-up", "/account", PAGE, "/password")) {
			assertThat(again.open(path).leadsTo()).as(path).isEqualTo(CODE);
		}
		this.clock.advance(Duration.ofSeconds(30));
		assertThat(again.open(CODE).send(CODE, "code", app.code(this.clock)).leadsTo()).isNotEqualTo(CODE);
		assertThat(again.open("/follow-up").status()).isEqualTo(200);
	}

	@Test
	void isAChoiceForOthers() {
		var practitioner = visitor().signIn("i.sandell", PASSWORD).follow();
		assertThat(practitioner.open("/follow-up").status()).isEqualTo(200);
		turnOn(practitioner);
		assertThat(practitioner.open("/account").text()).contains("10 recovery codes left");
		assertThat(visitor().signIn("i.sandell", PASSWORD).leadsTo()).isEqualTo(CODE);

		assertThat(practitioner.open(PAGE).send(PAGE + "/remove").follow().text()).contains("The second factor is off");
		assertThat(visitor().signIn("i.sandell", PASSWORD).leadsTo()).isEqualTo("/");
	}

	@Test
	void staysOnForALead() {
		var lead = visitor().signIn("l.hagen", PASSWORD).follow();
		turnOn(lead);
		lead.open(PAGE);
		assertThat(lead.page().select("form[action$=/remove]")).isEmpty();
		var forms = lead.form(PAGE + "/recovery-codes");
		assertThat(lead.send(forms, PAGE + "/remove").follow().text()).contains("Your role needs a second factor");
		assertThat(visitor().signIn("l.hagen", PASSWORD).leadsTo()).isEqualTo(CODE);
	}

	@Test
	void isNotTurnedOnWithoutACodeOfTheApp() {
		var practitioner = visitor().signIn("i.sandell", PASSWORD).follow().open(PAGE);
		String secret = practitioner.page().select("#second-factor-secret").text();
		practitioner.send(PAGE, "code", "000000");
		assertThat(practitioner.status()).isEqualTo(422);
		assertThat(practitioner.page().select("#second-factor-secret").text()).as("the secret that the app has read")
			.isEqualTo(secret);
		assertThat(visitor().signIn("i.sandell", PASSWORD).leadsTo()).isEqualTo("/");
	}

	/* RFC 6238, 5.2: a code is accepted once, and a step of delay on either side. */
	@Test
	void takesEachCodeOnceAndFromOneStepOnEitherSide() {
		var app = turnOn(visitor().signIn("i.sandell", PASSWORD).follow());
		this.clock.advance(Duration.ofMinutes(2));
		var code = app.code(this.clock);
		assertThat(visitor().signIn("i.sandell", PASSWORD).follow().send(CODE, "code", code).leadsTo()).isEqualTo("/");
		var second = visitor().signIn("i.sandell", PASSWORD).follow();
		assertThat(second.send(CODE, "code", code).status()).as("used").isEqualTo(422);

		this.clock.advance(Duration.ofMinutes(5));
		assertThat(second.send(CODE, "code", app.code(this.clock, Duration.ofSeconds(-60))).status())
			.as("two steps ago")
			.isEqualTo(422);
		assertThat(second.send(CODE, "code", app.code(this.clock, Duration.ofSeconds(60))).status())
			.as("two steps ahead")
			.isEqualTo(422);
		assertThat(second.send(CODE, "code", app.code(this.clock, Duration.ofSeconds(-30))).leadsTo())
			.as("one step ago")
			.isEqualTo("/");
		var third = visitor().signIn("i.sandell", PASSWORD).follow();
		assertThat(third.send(CODE, "code", app.code(this.clock, Duration.ofSeconds(30))).leadsTo())
			.as("one step ahead")
			.isEqualTo("/");
	}

	@Test
	void takesEachRecoveryCodeOnce() {
		var owner = visitor().signIn("i.sandell", PASSWORD).follow();
		turnOn(owner);
		var codes = owner.page().select("#recovery-codes code").eachText();
		assertThat(codes).hasSize(10).doesNotHaveDuplicates();
		assertThat(visitor().signIn("i.sandell", PASSWORD)
			.follow()
			.send(CODE, "code", codes.get(3).toUpperCase().replace("-", " "))
			.leadsTo()).isEqualTo("/");
		assertThat(visitor().signIn("i.sandell", PASSWORD).follow().send(CODE, "code", codes.get(3)).status())
			.isEqualTo(422);
		assertThat(owner.open("/account").text()).contains("9 recovery codes left");

		var renewed = owner.open(PAGE).send(PAGE + "/recovery-codes").page().select("#recovery-codes code").eachText();
		assertThat(renewed).hasSize(10).doesNotContainAnyElementsOf(codes);
		assertThat(visitor().signIn("i.sandell", PASSWORD).follow().send(CODE, "code", codes.get(5)).status())
			.isEqualTo(422);
		assertThat(visitor().signIn("i.sandell", PASSWORD).follow().send(CODE, "code", renewed.get(5)).leadsTo())
			.isEqualTo("/");
	}

	@Test
	void slowsGuessingAtCodesDown() {
		var app = turnOn(visitor().signIn("i.sandell", PASSWORD).follow());
		this.clock.advance(Duration.ofMinutes(2));
		var thief = new Visitor(this.pages, "198.51.100.7").signIn("i.sandell", PASSWORD).follow();
		for (int guess = 1; guess <= 6; guess++) {
			assertThat(thief.send(CODE, "code", "00000" + guess).status()).isEqualTo(422);
		}
		assertThat(thief.send(CODE, "code", app.code(this.clock)).status()).isEqualTo(429);
		assertThat(visitor().signIn("i.sandell", PASSWORD).follow().send(CODE, "code", app.code(this.clock)).leadsTo())
			.as("the owner elsewhere")
			.isEqualTo("/");
	}

	@Test
	void isKeptSoThatTheDatabaseTellsNoSecret() {
		var app = turnOn(visitor().signIn("i.sandell", PASSWORD).follow());
		var kept = this.database.sql("select secret from second_factor").query(byte[].class).single();
		assertThat(HexFormat.of().formatHex(kept)).isNotEmpty().doesNotContain(HexFormat.of().formatHex(app.secret()));
	}

	@Test
	void makesAShorterPasswordEnoughAndKeepsItsOwnerFromBeingLeftWithThatAlone() {
		var owner = visitor().signIn("i.sandell", PASSWORD).follow();
		assertThat(owner.open("/password").send("/password", "current", PASSWORD, "password", "lamp ape").status())
			.isEqualTo(422);
		turnOn(owner);
		assertThat(owner.open("/password").text()).contains("At least 8 characters");
		assertThat(owner.send("/password", "current", PASSWORD, "password", "lamp ape").leadsTo()).isEqualTo("/");
		assertThat(owner.open(PAGE).send(PAGE + "/remove").follow().text())
			.contains("fewer than 15 characters, which is enough only beside a second factor");
		assertThat(visitor().signIn("i.sandell", "lamp ape").leadsTo()).isEqualTo(CODE);
	}

	private CodeApp turnOn(Visitor visitor) {
		visitor.open(PAGE);
		var app = CodeApp.reading(visitor.page().select("#second-factor-secret").text());
		visitor.send(PAGE, "code", app.code(this.clock));
		assertThat(visitor.heading()).isEqualTo("Recovery codes");
		return app;
	}

	private Visitor visitor() {
		return new Visitor(this.pages, "192.0.2.10");
	}

}
