package org.seriatim.treatment.web;

import java.util.Map;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.Role;
import org.seriatim.patient.PatientId;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.SignedInAs;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.TestTreatment;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

@PageTest
@SignedInAs(Role.PRACTITIONER)
class SeriesPageTests {

	@Autowired
	MockMvcTester pages;

	@Autowired
	TreatmentHistory history;

	@Autowired
	JdbcClient database;

	TestTreatment given;

	PatientId patient;

	@BeforeEach
	void aPatient() {
		this.given = new TestTreatment(this.database);
		this.patient = this.given.patient("T-1");
	}

	@Test
	void opensASeries() {
		assertThat(get("/patients/" + this.patient + "/series/new")).hasStatusOk()
			.bodyText()
			.contains("Open a series", "protocol version 1");
		var answer = post("/patients/" + this.patient + "/series/new",
				Map.of("goal", "boxcar scars of both cheeks", "plannedSessions", "4"));
		var series = only();
		assertThat(answer).hasRedirectedUrl("/series/" + series.id());
		assertThat(series.goal()).isEqualTo("boxcar scars of both cheeks");
		assertThat(series.plannedSessions()).isEqualTo(4);
	}

	@Test
	void sendsWhoWantsASecondOneToTheOpenOne() {
		var open = this.given.series(this.patient);
		assertThat(get("/patients/" + this.patient + "/series/new")).hasStatusOk()
			.bodyText()
			.contains("Series 1 is open", "/series/" + open + "/end")
			.doesNotContain("name=\"goal\"");
		assertThat(post("/patients/" + this.patient + "/series/new", Map.of()))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Another series of this patient is open. End it first.");
	}

	@Test
	void givesBackWhatWasTypedWhenANumberIsRefused() {
		var answer = post("/patients/" + this.patient + "/series/new",
				Map.of("goal", "pores of the nose", "plannedSessions", "100"));
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("value=\"pores of the nose\"", "value=\"100\"");
		assertThat(RefusedForm.messages(answer))
			.containsOnly(Map.entry("plannedSessions", "Enter a whole number from 1 to 99."));
	}

	@Test
	void changesAPlanWithAReasonAndKeepsTheOldOneReadable() {
		post("/patients/" + this.patient + "/series/new", Map.of("goal", "pores", "plannedSessions", "3"));
		var series = only();
		assertThat(RefusedForm.messages(post("/series/" + series.id() + "/edit",
				Map.of("version", "0", "goal", "pores", "plannedSessions", "5"))))
			.containsOnly(Map.entry("reason", "Say why it is corrected."));
		assertThat(post("/series/" + series.id() + "/edit",
				Map.of("version", "0", "goal", "pores", "plannedSessions", "5", "reason", "slow response")))
			.hasRedirectedUrl("/series/" + series.id());
		assertThat(get("/series/" + series.id() + "/edit")).hasStatusOk()
			.bodyText()
			.contains("1 correction", "slow response", "planned sessions", "20 Nov 2026, 09:00, practitioner");
		assertThat(only().plannedSessions()).isEqualTo(5);
	}

	@Test
	void answersWithAConflictWhenSomebodyElseWasFaster() {
		var series = this.given.series(this.patient);
		this.given.end(series, "2026-11-01");
		assertThat(post("/series/" + series + "/edit", Map.of("version", "0", "goal", "pores", "reason", "more")))
			.hasStatus(HttpStatus.CONFLICT)
			.bodyText()
			.contains("pores");
	}

	@Test
	void endsWithOutcomeDayAndReason() {
		var series = this.given.series(this.patient);
		assertThat(RefusedForm.messages(post("/series/" + series + "/end", Map.of("version", "0")))).containsOnly(
				Map.entry("status", "Fill this in."), Map.entry("endedOn", "Enter the day on which it ended."),
				Map.entry("reason", "Fill this in."));
		assertThat(post("/series/" + series + "/end",
				Map.of("version", "0", "status", "stopped", "endedOn", "2026-11-10", "reason", "moved away")))
			.hasRedirectedUrl("/series/" + series);
		assertThat(only()).satisfies((ended) -> {
			assertThat(ended.status()).isEqualTo(SeriesStatus.STOPPED);
			assertThat(ended.endedOn()).isEqualTo("2026-11-10");
			assertThat(ended.reason()).isEqualTo("moved away");
		});
	}

	@Test
	void doesNotEndOnADayThatCannotBe() {
		var series = this.given.series(this.patient);
		this.given.session(series, 1, "2026-10-05");
		assertThat(RefusedForm.messages(end(series.toString(), "2026-10-04")))
			.containsOnly(Map.entry("endedOn", "Its last session was on 5 Oct 2026; it cannot have ended before."));
		assertThat(RefusedForm.messages(end(series.toString(), "2026-11-21")))
			.containsOnly(Map.entry("endedOn", "A series ends today, 20 Nov 2026, or on an earlier day."));
		assertThat(RefusedForm.messages(end(series.toString(), "2026-13-45")))
			.containsOnly(Map.entry("endedOn", "Enter a date as year-month-day, for example 2026-03-21."));
	}

	@Test
	void takesAnEndBackThatWasAMistake() {
		var series = this.given.series(this.patient);
		assertThat(get("/series/" + series + "/end")).bodyText().doesNotContain("entered by mistake");
		this.given.end(series, "2026-11-01");
		assertThat(get("/series/" + series + "/end")).bodyText().contains("entered by mistake");
		post("/series/" + series + "/end", Map.of("version", "1", "status", "open", "reason", "wrong patient"));
		assertThat(only().isOpen()).isTrue();
	}

	@Test
	void knowsNoSeriesAndNoPatientThatIsNotThere() {
		var nobody = "01980000-0000-7000-8000-000000000000";
		assertThat(get("/patients/" + nobody + "/series/new")).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(get("/series/" + nobody + "/edit")).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(get("/series/nonsense/end")).hasStatus(HttpStatus.BAD_REQUEST);
	}

	@Test
	void writesTheOpeningOfTheRecordIntoTheAuditLog() {
		get("/series/" + this.given.series(this.patient) + "/edit");
		assertThat(this.database.sql("select count(*) from audit_entry where action = 'opened' and patient_id = ?")
			.param(this.patient.value())
			.query(Integer.class)
			.single()).isOne();
	}

	private MvcTestResult end(String series, String day) {
		return post("/series/" + series + "/end",
				Map.of("version", "0", "status", "completed", "endedOn", day, "reason", "goal reached"));
	}

	private SeriesSummary only() {
		assertThat(this.history.seriesOf(this.patient)).hasSize(1);
		return this.history.seriesOf(this.patient).get(0);
	}

	private MvcTestResult get(String address) {
		return this.pages.get().uri(address).exchange();
	}

	private MvcTestResult post(String address, Map<String, String> form) {
		var request = this.pages.post().uri(address).with(csrf());
		form.forEach(request::param);
		return request.exchange();
	}

}
