package org.seriatim.record.web;

import java.util.List;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import org.seriatim.access.Role;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.record.LongRecord;
import org.seriatim.support.PageTest;
import org.seriatim.support.Statements;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SeriesId;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/**
 * The audit entry counts, and the look at account and sign-in that every request takes;
 * the HTTP session does not.
 */
@PageTest
class SeriesPageStatementTests {

	private static final int MOST = 13;

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@Autowired
	private JdbcClient database;

	@Autowired
	private ApplicationEventPublisher events;

	@Autowired
	private CurrentAdvice advice;

	@Autowired
	private Statements statements;

	private List<String> statementsOfPage(String prefix, int scars, int sessions) {
		LongRecord.insert(this.database, prefix, 1, scars, sessions);
		var series = LongRecord.firstSeries(this.database, prefix);
		var patient = this.database.sql("select patient_id from series where id = :id")
			.param("id", series)
			.query(UUID.class)
			.single();
		this.events.publishEvent(new PatientRecordChanged(new PatientId(patient)));
		var reader = this.staff.as(Role.CLINIC_LEAD);
		var advice = this.advice.of(new SeriesId(series)).orElseThrow();
		assertThat(this.pages.post()
			.uri("/series/" + series + "/advice/decision")
			.with(reader)
			.with(csrf())
			.param("advice", advice.id().toString())
			.param("accept", "true")).hasStatus3xxRedirection();
		return this.statements
			.during(() -> assertThat(this.pages.get().uri("/series/" + series).with(reader)).hasStatusOk()
				.bodyText()
				.contains("Accepted by"));
	}

	@Test
	void aLongRecordTakesNoMoreStatementsThanAShortOne() {
		var ofShort = statementsOfPage("SHORT-", 1, 1);
		var ofLong = statementsOfPage("LONG-", 60, 12);

		assertThat(ofLong).hasSizeLessThanOrEqualTo(MOST).hasSameSizeAs(ofShort);
		assertThat(ofLong).anySatisfy((sql) -> assertThat(sql).contains("insert into audit_entry"));
	}

}
