package org.seriatim.access.web;

import java.time.Duration;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.AccountRegister;
import org.seriatim.access.Role;
import org.seriatim.access.domain.ManageAccounts;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/** The own account, and everybody's as an administrator sees them. */
@PageTest
class AccountPageTests {

	private static final String PASSWORD = "small steps on a long way";

	private static final String NEW_PASSWORD = "even smaller steps today";

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private AccountRegister accounts;

	@Autowired
	private ManageAccounts manage;

	@Autowired
	private TestStaff staff;

	@Autowired
	private JdbcClient database;

	@Autowired
	private TestClock clock;

	private String account = "";

	@BeforeEach
	void openAnAccount() {
		this.accounts.open("i.sandell", Set.of(Role.PRACTITIONER), PASSWORD);
		this.account = idOf("i.sandell");
	}

	@Test
	void listsWhereOneIsSignedInAndEndsOneOfThem() {
		var here = visitor().signIn("i.sandell", PASSWORD).follow();
		var there = new Visitor(this.pages, "198.51.100.7").signIn("i.sandell", PASSWORD).follow();
		here.open("/account");
		assertThat(here.text()).contains("192.0.2.10 this one").contains("198.51.100.7 open, last used");

		var end = here.page().selectFirst("form[action$=/end][action^=/account/sign-ins/]").attr("action");
		assertThat(here.send(end).follow().text()).contains("That sign-in has ended");
		assertThat(there.open("/follow-up").leadsTo()).isEqualTo("/sign-in");
		assertThat(here.open("/follow-up").status()).isEqualTo(200);
		assertThat(here.open("/account").text()).contains("198.51.100.7 over");
	}

	/*
	 * The rows of sessions come in the order in which they lie in their table, and an
	 * update moves them.
	 */
	@Test
	void listsEverySignInWholeHoweverItsSessionLiesInTheDatabase() {
		var visitors = Stream.generate(() -> visitor().signIn("i.sandell", PASSWORD).follow()).limit(4).toList();
		this.database
			.sql("""
					update spring_session_attributes set attribute_bytes = attribute_bytes where attribute_name = 'signIn'""")
			.update();
		var text = visitors.get(0).open("/account").text();
		assertThat(text).doesNotContain(" over");
		assertThat(Pattern.compile("open, last used").matcher(text).results()).hasSize(3);
	}

	@Test
	void endsNobodyElsesSignIn() {
		this.accounts.open("m.tarrow", Set.of(Role.PRACTITIONER), NEW_PASSWORD);
		var other = visitor().signIn("m.tarrow", NEW_PASSWORD).follow();
		var mine = visitor().signIn("i.sandell", PASSWORD).follow().open("/account");
		String signIn = this.database.sql("select id from sign_in where account_id = cast(:id as uuid)")
			.param("id", idOf("m.tarrow"))
			.query(String.class)
			.single();
		mine.send(mine.form("/account/sign-ins/end"), "/account/sign-ins/" + signIn + "/end");
		assertThat(mine.status()).isEqualTo(404);
		assertThat(other.open("/follow-up").status()).isEqualTo(200);
	}

	@Test
	void signsOutEverywhere() {
		var here = visitor().signIn("i.sandell", PASSWORD).follow();
		var there = visitor().signIn("i.sandell", PASSWORD).follow();
		assertThat(here.open("/account").send("/account/sign-ins/end").follow().text())
			.contains("You are signed out everywhere");
		assertThat(here.open("/follow-up").leadsTo()).isEqualTo("/sign-in");
		assertThat(there.open("/follow-up").leadsTo()).isEqualTo("/sign-in");
		assertThat(sessions()).isZero();
	}

	/* OWASP ASVS 5.0.0, 7.4.3: the other sign-ins end with a change of the password. */
	@Test
	void endsTheOtherSignInsWithANewPassword() {
		var here = visitor().signIn("i.sandell", PASSWORD).follow();
		var there = visitor().signIn("i.sandell", PASSWORD).follow();
		assertThat(here.open("/password").send("/password", "current", PASSWORD, "password", NEW_PASSWORD).leadsTo())
			.isEqualTo("/");
		assertThat(there.open("/follow-up").leadsTo()).isEqualTo("/sign-in");
		assertThat(here.open("/follow-up").status()).isEqualTo(200);
		assertThat(visitor().signIn("i.sandell", PASSWORD).status()).isEqualTo(422);
		assertThat(visitor().signIn("i.sandell", NEW_PASSWORD).leadsTo()).isEqualTo("/");
	}

	/*
	 * OWASP ASVS 5.0.0, 6.2.3: whoever finds a screen left open has no password to give.
	 */
	@Test
	void changesNoPasswordForWhoDoesNotKnowTheOneUntilNow() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow();
		visitor.open("/password").send("/password", "current", "not the one until now", "password", NEW_PASSWORD);
		assertThat(visitor.status()).isEqualTo(422);
		assertThat(visitor().signIn("i.sandell", NEW_PASSWORD).status()).isEqualTo(422);
		assertThat(visitor().signIn("i.sandell", PASSWORD).leadsTo()).isEqualTo("/");
	}

	/* OWASP ASVS 5.0.0, 6.4.1. */
	@Test
	void opensNothingButTheChoiceOfAPasswordByAOneTimeOneAndForThreeDays() {
		String once = this.manage.open("n.ew", Set.of(Role.PRACTITIONER));
		var owner = visitor().signIn("n.ew", once).follow();
		assertThat(owner.open("/follow-up").leadsTo()).isEqualTo("/password");
		assertThat(owner.open("/password").send("/password", "current", once, "password", once).status())
			.isEqualTo(422);
		this.clock.advance(Duration.ofHours(72));
		assertThat(visitor().signIn("n.ew", once).status()).isEqualTo(422);
	}

	@Test
	void endsASignInAfterTwelveHoursHoweverBusyItIs() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow();
		this.clock.advance(Duration.ofHours(12).minusSeconds(1));
		assertThat(visitor.open("/follow-up").status()).isEqualTo(200);
		this.clock.advance(Duration.ofSeconds(1));
		assertThat(visitor.open("/follow-up").leadsTo()).isEqualTo("/sign-in");
	}

	@Test
	void givesTheRolesOfThisMomentToASignInThatLasts() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow();
		assertThat(visitor.open("/outcomes/lumps").status()).isEqualTo(200);
		asAdministrator("/roles", "roles", "FRONT_DESK");
		assertThat(visitor.open("/outcomes/lumps").status()).isEqualTo(403);
		assertThat(visitor.open("/follow-up").status()).isEqualTo(200);
	}

	@Test
	void shutsEveryWayIntoAnAccountThatIsDeactivated() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow();
		String token = visitor.open("/tokens").send("/tokens").page().select("#made-token").text();
		assertThat(withToken(token)).isEqualTo(200);
		asAdministrator("/active", "active", "false");
		assertThat(visitor.open("/follow-up").leadsTo()).isEqualTo("/sign-in");
		assertThat(withToken(token)).isEqualTo(401);
		asAdministrator("/active", "active", "true");
		assertThat(withToken(token)).as("after it is active again").isEqualTo(401);
		assertThat(visitor().signIn("i.sandell", PASSWORD).leadsTo()).isEqualTo("/");
	}

	@Test
	void keepsTheLastAdministratorWhoCanSignIn() {
		this.accounts.open("s.ost", Set.of(Role.ADMINISTRATOR), NEW_PASSWORD);
		this.account = idOf("s.ost");
		this.staff.member(Role.ADMINISTRATOR);
		this.database.sql("update account set password = null where password = '{none}'").update();
		for (String change : new String[] { "/roles", "/active", "/second-factor" }) {
			var page = noticeOf(change, "roles", "FRONT_DESK", "active", "false");
			assertThat(page).as(change).isEqualTo("access.account.last-administrator");
		}
	}

	@Test
	void endsTheSignInsOfAnAccount() {
		var visitor = visitor().signIn("i.sandell", PASSWORD).follow();
		asAdministrator("/sign-ins/end");
		assertThat(visitor.open("/follow-up").leadsTo()).isEqualTo("/sign-in");
	}

	@Test
	void invitesSomebodyWhoChoosesThePassword() {
		var invited = Visitor.page(this.pages.post()
			.uri("/setup/accounts")
			.with(this.staff.as(Role.ADMINISTRATOR))
			.with(csrf())
			.param("name", "n.ew")
			.param("roles", "FRONT_DESK")
			.exchange());
		String code = invited.select("#invitation-code").text();
		assertThat(invited.select("#invitation-link").text()).isEqualTo("http://localhost/invitation#" + code);
		assertThat(this.pages.get().uri("/setup/accounts").with(this.staff.as(Role.ADMINISTRATOR)).exchange())
			.bodyText()
			.contains("invited")
			.doesNotContain(code);

		var owner = visitor().open("/invitation");
		assertThat(owner.send("/invitation", "code", code, "password", "too short").status()).isEqualTo(422);
		assertThat(owner.send("/invitation", "code", code, "password", NEW_PASSWORD).leadsTo()).isEqualTo("/sign-in");
		assertThat(visitor().signIn("n.ew", NEW_PASSWORD).leadsTo()).isEqualTo("/");
		assertThat(visitor().open("/invitation").send("/invitation", "code", code, "password", PASSWORD).text())
			.contains("wrong, too old, or was used before");
	}

	@Test
	void letsAnInvitationLapse() {
		String code = invite("/invitation");
		this.clock.advance(Duration.ofHours(72));
		assertThat(visitor().open("/invitation").send("/invitation", "code", code, "password", NEW_PASSWORD).status())
			.isEqualTo(422);
	}

	@Test
	void letsOnlyTheNewestInvitationWork() {
		String first = invite("/invitation");
		String second = invite("/invitation");
		assertThat(visitor().open("/invitation").send("/invitation", "code", first, "password", NEW_PASSWORD).status())
			.isEqualTo(422);
		assertThat(visitor().signIn("i.sandell", PASSWORD).leadsTo()).as("until it is used").isEqualTo("/");
		var other = visitor().signIn("i.sandell", PASSWORD).follow();
		visitor().open("/invitation").send("/invitation", "code", second, "password", NEW_PASSWORD);
		assertThat(other.open("/follow-up").leadsTo()).isEqualTo("/sign-in");
		assertThat(visitor().signIn("i.sandell", PASSWORD).status()).isEqualTo(422);
	}

	@Test
	void letsAnOwnerWhoLostTheSecondFactorStartAnew() {
		var owner = visitor().signIn("i.sandell", PASSWORD).follow();
		String code = invite("/second-factor");
		assertThat(owner.open("/follow-up").leadsTo()).isEqualTo("/sign-in");
		assertThat(visitor().signIn("i.sandell", PASSWORD).status()).isEqualTo(422);
		visitor().open("/invitation").send("/invitation", "code", code, "password", NEW_PASSWORD);
		assertThat(visitor().signIn("i.sandell", NEW_PASSWORD).leadsTo()).isEqualTo("/");
	}

	@Test
	void knowsNoAccountThatIsNotThere() {
		assertThat(this.pages.get()
			.uri("/setup/accounts/01980000-0000-7000-8000-000000000000")
			.with(this.staff.as(Role.ADMINISTRATOR))).hasStatus(HttpStatus.NOT_FOUND);
	}

	private String invite(String what) {
		return Visitor
			.page(this.pages.post()
				.uri("/setup/accounts/" + this.account + what)
				.with(this.staff.as(Role.ADMINISTRATOR))
				.with(csrf())
				.exchange())
			.select("#invitation-code")
			.text();
	}

	private void asAdministrator(String what, String... fields) {
		assertThat(noticeOf(what, fields)).startsWith("access.");
	}

	/** What the next page says of the change. */
	private String noticeOf(String what, String... fields) {
		var request = this.pages.post()
			.uri("/setup/accounts/" + this.account + what)
			.with(this.staff.as(Role.ADMINISTRATOR))
			.with(csrf());
		for (int i = 0; i < fields.length; i += 2) {
			request.param(fields[i], fields[i + 1]);
		}
		var flash = request.exchange().getMvcResult().getFlashMap();
		return String.valueOf(flash.getOrDefault("problem", flash.get("notice")));
	}

	private int withToken(String token) {
		return this.pages.get()
			.uri("/follow-up/advice.csv?on=2026-11-20")
			.header("Authorization", "Bearer " + token)
			.exchange()
			.getResponse()
			.getStatus();
	}

	private String idOf(String name) {
		return this.database
			.sql("select account.id from account join staff on staff.id = account.staff_id where staff.name = :name")
			.param("name", name)
			.query(String.class)
			.single();
	}

	private long sessions() {
		return this.database.sql("select count(*) from spring_session where principal_name = 'i.sandell'")
			.query(Long.class)
			.single();
	}

	private Visitor visitor() {
		return new Visitor(this.pages, "192.0.2.10");
	}

}
