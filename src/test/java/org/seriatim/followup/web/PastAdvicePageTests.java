package org.seriatim.followup.web;

import java.nio.charset.StandardCharsets;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import org.seriatim.access.Role;
import org.seriatim.followup.ARecord;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SeriesId;

import static org.assertj.core.api.Assertions.assertThat;

@PageTest
class PastAdvicePageTests {

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@Autowired
	private JdbcClient database;

	@Autowired
	private ApplicationEventPublisher events;

	@Autowired
	private CurrentAdvice currentAdvice;

	private ARecord record;

	private SeriesId series;

	private StandingAdvice first;

	private StandingAdvice second;

	@BeforeEach
	void adviseTwice() {
		this.record = ARecord.of(this.database, "T-1", "Lindqvist", "Orsolya");
		this.series = this.record.openSeries();
		var session = this.record.session(this.series, 0);
		changed();
		this.first = this.currentAdvice.of(this.series).orElseThrow();
		var lump = this.record.finding(session, "lump", 0);
		this.record.observe(lump, 20, true);
		changed();
		this.second = this.currentAdvice.of(this.series).orElseThrow();
	}

	private void changed() {
		this.events.publishEvent(new PatientRecordChanged(this.record.patient()));
	}

	private String page(String address) {
		var result = this.pages.get().uri(address).with(this.staff.as(Role.PRACTITIONER)).exchange();
		assertThat(result).hasStatusOk();
		return new String(result.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
	}

	@Test
	void showsEverythingThatWasAdvisedTheNewestFirst() {
		var page = page("/series/" + this.series + "/advice");

		assertThat(page)
			.contains("Lindqvist, Orsolya", "lump still there", "not known whether a lump lasted", "stands now",
					"protocol version 1")
			.doesNotContain("??");
		assertThat(page.indexOf(this.second.id().toString())).isLessThan(page.indexOf(this.first.id().toString()))
			.isPositive();
	}

	@Test
	void showsADecisionWithWhoAndWhy() {
		this.database.sql("""
				insert into advice_decision (advice_id, decided_at, decided_by, accepted, reason, first_day, last_day)
				select :advice, timestamptz '2026-11-20 09:30Z', id, false, 'travels', :first, :last from staff
				where name = 'r.vale'""")
			.param("advice", this.first.id().value())
			.param("first", ARecord.day(88))
			.param("last", ARecord.day(95))
			.update();

		assertThat(page("/series/" + this.series + "/advice")).contains("r.vale", "travels", "28 Nov 2026",
				"5 Dec 2026");
	}

	@Test
	void computesAPastAdviceAgainAsItWas() {
		var page = page("/series/" + this.series + "/advice/" + this.first.id());

		assertThat(page)
			.contains("the same advice comes out", "Nobody has heard of the patient since session 1", "1 session",
					"no findings", "version 1")
			.doesNotContain("As the rules say now", "lump was still there", "??");
	}

	@Test
	void showsBothWhenTheRulesHaveChangedSince() {
		this.database.sql("""
				update advice set content = jsonb_set(content, '{reasons,1,sentence,key}',
					'"followup.rule.unknown.reported"') where id = :id""")
			.param("id", this.first.id().value())
			.update();

		assertThat(page("/series/" + this.series + "/advice/" + this.first.id())).contains(
				"the rules have changed since", "As the rules say now", "told of a lump",
				"Nobody has heard of the patient");
	}

	@Test
	void opensTheRecordUnderTheEyesOfTheAuditLog() {
		page("/series/" + this.series + "/advice");

		assertThat(
				this.database.sql("select count(*) from audit_entry where action = 'opened' and patient_id = :patient")
					.param("patient", this.record.patient().value())
					.query(Integer.class)
					.single())
			.isEqualTo(1);
	}

	@Test
	void knowsNoAdviceOfAnotherSeries() {
		var other = ARecord.of(this.database, "T-2").openSeries();

		assertThat(this.pages.get()
			.uri("/series/" + other + "/advice/" + this.first.id())
			.with(this.staff.as(Role.PRACTITIONER))).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(
				this.pages.get().uri("/series/" + UUID.randomUUID() + "/advice").with(this.staff.as(Role.PRACTITIONER)))
			.hasStatus(HttpStatus.NOT_FOUND);
		assertThat(page("/series/" + other + "/advice")).contains("Nothing was advised yet");
	}

	@Test
	void isClosedToTheDesk() {
		assertThat(this.pages.get().uri("/series/" + this.series + "/advice").with(this.staff.as(Role.FRONT_DESK)))
			.hasStatus(HttpStatus.FORBIDDEN);
	}

}
