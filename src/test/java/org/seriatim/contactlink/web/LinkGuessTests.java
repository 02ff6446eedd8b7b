package org.seriatim.contactlink.web;

import java.time.Duration;
import java.util.Base64;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.seriatim.contactlink.TestLinks;
import org.seriatim.contactlink.domain.ContactLinks;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Somebody guesses at links: a few hundred times in every build, 10,000 times in the
 * profile {@code proof}. The seed is fixed.
 */
@PageTest
class LinkGuessTests {

	private static final int GUESSES = Integer.getInteger("link.guesses", 300);

	/** As many as one address has before it waits. */
	private static final int FREE = 50;

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	ContactLinks links;

	@Autowired
	TestClock clock;

	@Test
	void getNothingAndSlowNobodyElseDown() {
		TestLinks.setUp(this.database);
		var treatment = new TestTreatment(this.database);
		var patient = treatment.patient("K1");
		treatment.session(treatment.series(patient), 1, "2026-11-02");
		var address = this.links.addressOf(this.links.make(patient).id()).replace(TestLinks.BASE, "");
		var random = new Random(20_261_201);
		int notFound = 0;
		int wait = 0;
		for (int i = 0; i < GUESSES; i++) {
			var bytes = new byte[32];
			random.nextBytes(bytes);
			var guess = "/answer/" + Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
			var answer = from("192.0.2.7", guess);
			if (answer.getResponse().getErrorMessage() == null && !answer.getResponse().isCommitted()) {
				assertThat(answer).bodyText().contains("Go to the hospital at once.");
			}
			if (answer.getResponse().getStatus() == HttpStatus.NOT_FOUND.value()) {
				notFound++;
			}
			else {
				assertThat(answer).hasStatus(HttpStatus.TOO_MANY_REQUESTS);
				assertThat(answer.getResponse().getHeader("Retry-After")).isNotNull();
				wait++;
			}
		}
		assertThat(notFound).isLessThanOrEqualTo(FREE + 1);
		assertThat(wait).isEqualTo(GUESSES - notFound);
		assertThat(from("198.51.100.9", address)).as("who holds a link is not held up by a guesser elsewhere")
			.hasStatusOk();
		// all requests of one address together are limited too, by the minute
		this.clock.advance(Duration.ofMinutes(1));
		assertThat(from("192.0.2.7", address)).as("nor, but for that minute, by one at the same address").hasStatusOk();
		assertThat(this.database.sql("select count(*) from audit_entry where kind = 'link_answer'")
			.query(Integer.class)
			.single()).isZero();
	}

	private MvcTestResult from(String networkAddress, String path) {
		return this.browser.get().uri(path).with((request) -> {
			request.setRemoteAddr(networkAddress);
			return request;
		}).exchange();
	}

}
