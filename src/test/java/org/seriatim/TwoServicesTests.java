package org.seriatim;

import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.Callable;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import jakarta.mail.Message;
import jakarta.mail.MessagingException;
import jakarta.mail.internet.MimeMessage;
import org.awaitility.Awaitility;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.Role;
import org.seriatim.access.domain.ManageAccounts;
import org.seriatim.contactlink.TestLinks;
import org.seriatim.contactlink.domain.ContactLinks;
import org.seriatim.patient.PatientId;
import org.seriatim.support.ServicesOnOneDatabase;
import org.seriatim.support.Visitor;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.TestTreatment;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Two services on one database, as behind a balancer that sends each request to the one
 * or the other.
 */
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class TwoServicesTests {

	private static final String PASSWORD = "nine calm herons wade";

	private static final int MAILS = 8;

	private static final GreenMail mail = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));

	@TempDir
	private static Path data;

	private static ServicesOnOneDatabase services;

	private static JdbcClient database;

	private static ContactLinks links;

	private static ContactLinks otherLinks;

	private static String a;

	private static String b;

	private static SeriesId series;

	private static PatientId patient;

	@BeforeAll
	static void startBoth() {
		mail.start();
		services = new ServicesOnOneDatabase(data);
		var one = start();
		var other = start();
		a = ServicesOnOneDatabase.address(one);
		b = ServicesOnOneDatabase.address(other);
		database = one.getBean(JdbcClient.class);
		links = one.getBean(ContactLinks.class);
		otherLinks = other.getBean(ContactLinks.class);
		var accounts = one.getBean(ManageAccounts.class);
		accounts.open("p.reed", Set.of(Role.PRACTITIONER), PASSWORD);
		accounts.open("d.ford", Set.of(Role.FRONT_DESK), PASSWORD);
		var treatment = new TestTreatment(database);
		patient = treatment.patient("K1");
		series = treatment.series(patient);
		treatment.screened(patient, LocalDate.now().toString());
	}

	private static ConfigurableApplicationContext start() {
		return services.start("--spring.mail.host=127.0.0.1", "--spring.mail.port=" + mail.getSmtp().getPort(),
				"--seriatim.outbox.every=100ms", "--seriatim.backup.at=",
				"--spring.datasource.hikari.connection-timeout=250");
	}

	@AfterAll
	static void stop() {
		if (services != null) {
			services.close();
		}
		mail.stop();
	}

	@Test
	@Order(1)
	void takeTheSnapshotOfTheirStartOnce() {
		assertThat(database.sql("select count(*) from snapshot").query(Integer.class).single()).isEqualTo(1);
	}

	@Test
	@Order(2)
	void whoSignsInAtOneGoesOnAtTheOtherUntilTheySignOut() {
		var visitor = new Visitor();
		assertThat(visitor.signIn(a, "p.reed", PASSWORD).statusCode()).isEqualTo(302);
		var today = visitor.open(b + "/today");
		assertThat(today.statusCode()).isEqualTo(200);
		assertThat(today.body()).contains("p.reed");
		assertThat(visitor.open(a + "/today").statusCode()).isEqualTo(200);

		assertThat(visitor.fill(today, "form.account", a, Map.of()).headers().firstValue("Location")).get()
			.asString()
			.endsWith("/sign-in?signed-out");
		assertThat(visitor.open(b + "/today").headers().firstValue("Location")).get().asString().contains("/sign-in");
	}

	@Test
	@Order(3)
	void whatIsTypedAtOneStandsAtTheOtherAndNobodyOverwritesIt() {
		var visitor = signedIn(a, "p.reed");
		var form = visitor.open(a + "/series/" + series + "/sessions/new");
		var kept = visitor.fill(form, "main form", a, Map.of("weightKg", "61.5", "draft", "true"));
		assertThat(kept.statusCode()).isEqualTo(302);
		var draft = path(kept.headers().firstValue("Location").orElseThrow());

		var atA = visitor.open(a + draft);
		var atB = visitor.open(b + draft);
		assertThat(Jsoup.parse(atB.body()).select("[name=weightKg]").val()).isEqualTo("61.5");
		assertThat(visitor.open(b + "/drafts").body()).contains(draft);

		assertThat(visitor.fill(atB, "main form", b, Map.of("weightKg", "62.5", "draft", "true")).statusCode())
			.isEqualTo(302);
		var late = visitor.fill(atA, "main form", a, Map.of("weightKg", "63.5", "draft", "true"));
		assertThat(late.statusCode()).isEqualTo(409);
		assertThat(late.body()).contains("62.5", "63.5");
		assertThat(Jsoup.parse(visitor.open(a + draft).body()).select("[name=weightKg]").val()).isEqualTo("62.5");
	}

	@Test
	@Order(4)
	void aFormOfOneIsTakenByTheOther() {
		var visitor = signedIn(a, "d.ford");
		var form = visitor.open(a + "/patients/" + patient + "/edit");
		assertThat(visitor.fill(form, "main form", b, Map.of("familyName", "Reed", "reason", "told")).statusCode())
			.isEqualTo(302);
		assertThat(visitor.open(a + "/patients/" + patient).body()).contains("Reed");
	}

	@Test
	@Order(5)
	void guessesAtOneCountAtTheOther() {
		var visitor = new Visitor();
		int answered = 0;
		for (int guess = 0; guess < 12; guess++) {
			var at = (guess % 2 == 0) ? a : b;
			answered += (visitor.signIn(at, "nobody.here", "wrong and long enough").statusCode() == 429) ? 0 : 1;
		}
		assertThat(answered).as("as many as at one service: five, and what the pace lets through meanwhile")
			.isBetween(5, 7);
	}

	@Test
	@Order(6)
	void eachMailGoesOnceWhileBothLookForIt() {
		TestLinks.setUp(database);
		var treatment = new TestTreatment(database);
		for (int number = 0; number < MAILS; number++) {
			var one = treatment.patient("M" + number);
			database.sql("update patient set email = :email, version = version + 1 where id = :id")
				.param("email", "m" + number + "@example.org")
				.param("id", one.value())
				.update();
			treatment.session(treatment.series(one), 1, LocalDate.now().minusDays(3).toString());
			((number % 2 == 0) ? links : otherLinks).make(one);
		}
		await(() -> database.sql("select count(*) from outbox_message where state = 'sent'")
			.query(Integer.class)
			.single() == MAILS);
		assertThat(Arrays.stream(mail.getReceivedMessages()).map(TwoServicesTests::recipient)).hasSize(MAILS)
			.doesNotHaveDuplicates();
		assertThat(database.sql("select max(attempts) from outbox_message").query(Integer.class).single()).isEqualTo(1);
	}

	@Test
	@Order(7)
	void areNotReadyWithoutTheirDatabaseAndReadyAgainWithIt() {
		var balancer = new Visitor();
		assertThat(balancer.open(b + "/actuator/health/readiness").statusCode()).isEqualTo(200);
		services.loseTheDatabase();
		try {
			assertThat(balancer.open(b + "/actuator/health/readiness").statusCode()).isEqualTo(503);
			var alive = balancer.open(b + "/actuator/health/liveness");
			assertThat(alive.statusCode()).isEqualTo(200);
			assertThat(alive.body()).isEqualTo("{\"status\":\"UP\"}");
		}
		finally {
			services.findTheDatabase();
		}
		await(() -> balancer.open(a + "/actuator/health/readiness").statusCode() == 200);
		await(() -> balancer.open(b + "/actuator/health/readiness").statusCode() == 200);
		assertThat(signedIn(b, "p.reed").open(a + "/today").statusCode()).isEqualTo(200);
	}

	private static Visitor signedIn(String service, String name) {
		var visitor = new Visitor();
		assertThat(visitor.signIn(service, name, PASSWORD).statusCode()).isEqualTo(302);
		return visitor;
	}

	private static String path(String location) {
		return location.replaceFirst("^https?://[^/]+", "");
	}

	private static String recipient(MimeMessage message) {
		try {
			return message.getRecipients(Message.RecipientType.TO)[0].toString();
		}
		catch (MessagingException ex) {
			throw new IllegalStateException(ex);
		}
	}

	private static void await(Callable<Boolean> condition) {
		Awaitility.await().pollInterval(Duration.ofMillis(100)).atMost(Duration.ofSeconds(20)).until(condition);
	}

}
