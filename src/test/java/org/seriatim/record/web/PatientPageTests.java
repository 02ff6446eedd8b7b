package org.seriatim.record.web;

import java.io.UnsupportedEncodingException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.UUID;

import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import org.seriatim.access.Role;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.record.PatientRows;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SeriesId;

import static org.assertj.core.api.Assertions.assertThat;

@PageTest
class PatientPageTests {

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@Autowired
	private JdbcClient database;

	@Autowired
	private ApplicationEventPublisher events;

	private PatientRows patient;

	private SeriesId open;

	private UUID session;

	@BeforeEach
	void treatAPatient() {
		this.patient = PatientRows.of(this.database, "T-200", "family_name", "Quayle", "given_name", "Orsolya",
				"birth_date", "1990-11-20", "sex", "female", "phone", "+00 555 0199", "email", "q@example.org",
				"phototype", 4, "skin_thickness", "thick", "sebum", "oily");
		this.patient.series(1, "status", "completed", "ended_on", "2025-03-01", "goal", "left cheek");
		this.open = this.patient.series(2, "goal", "chin", "planned_sessions", 4);
		this.session = this.patient.session(this.open, 1, "2026-10-12");
		this.patient.contact(this.session, "2026-11-01", "lumps_present", false);
	}

	private MvcTestResult get(Role... roles) {
		this.events.publishEvent(new PatientRecordChanged(this.patient.id()));
		return this.pages.get().uri("/patients/" + this.patient.id()).with(this.staff.as(roles)).exchange();
	}

	private Document page(Role... roles) {
		var result = get(roles);
		assertThat(result).hasStatusOk();
		try {
			return Jsoup.parse(result.getResponse().getContentAsString(StandardCharsets.UTF_8));
		}
		catch (UnsupportedEncodingException ex) {
			throw new IllegalStateException(ex);
		}
	}

	@Test
	void showsIdentitySeriesAndTheDaysOfTheAdvice() {
		this.patient.appointment("2026-11-30T10:00Z", "2026-11-30T11:00Z");

		var page = page(Role.PRACTITIONER);

		assertThat(page.selectFirst("h1").text()).isEqualTo("Quayle, Orsolya");
		assertThat(page.selectFirst("dl.facts").text()).contains("T-200", "20 Nov 1990 36 years", "Female",
				"+00 555 0199", "q@example.org", "Phototype IV", "Thick", "Oily");
		// 42 days after 12 October, and a window of 14
		assertThat(page.select("tbody tr").eachText()).containsExactly(
				"Series 1 left cheek completed 1 Mar 2025 0 none no days –",
				"Series 2 chin open 1 of 4 planned Book within the window Mon 23 Nov 2026 to Mon 7 Dec 2026 –",
				"30 Nov 2026, 10:00 Treatment r.vale Booked Earlier versions");
		assertThat(page.select("a[href=/series/" + this.open + "]").text()).isEqualTo("Series 2");
	}

	@Test
	void givesTheFrontDeskAHoldWithoutItsReasonAndNothingClinical() {
		this.patient.finding(this.session, "burn", "2026-10-14", "region", "nose");

		var page = page(Role.FRONT_DESK);

		assertThat(page.select("tbody tr").eachText())
			.contains("Series 2 open 1 of 4 planned On hold: no treatment before a practitioner has decided no days –");
		assertThat(page.select("main").text()).contains("+00 555 0199", "No appointment")
			.doesNotContainIgnoringCase("burn")
			.doesNotContain("Finding", "finding", "Phototype", "Thick", "Oily", "chin", "left cheek");
		assertThat(page.select("a[href^=/series/]")).isEmpty();
	}

	@Test
	void showsOpenFindingsToWhoCaresForThePatientThoseThatHoldFirst() {
		this.patient.finding(this.session, "bruise", "2026-10-13", "region", "chin");
		this.patient.finding(this.session, "skin_necrosis", "2026-10-14", "region", "nose");
		this.patient.finding(this.session, "pain", "2026-10-14", "region", "chin", "closed_on", "2026-10-20",
				"closed_by", PatientRows.staff(this.database, "r.vale"));

		var page = page(Role.ASSISTANT);

		assertThat(page.select("section:has(h2:contains(Open findings)) tbody th").eachText())
			.containsExactly("Skin necrosis, Nose", "Bruise, Chin");
		assertThat(page.selectFirst("[role=alert]").text()).contains("Possible emergency", "Skin necrosis, Nose");
	}

	@Test
	void saysWhatToDoWhereThereIsNoSeries() {
		this.patient = PatientRows.of(this.database, "T-201");

		var page = page(Role.PRACTITIONER);

		assertThat(page.selectFirst("h1").text()).isEqualTo("T-201");
		assertThat(page.select(".empty-state__title").eachText()).isEqualTo(List.of("No series", "No appointment"));
	}

	@Test
	void isClosedToTheAdministrator() {
		assertThat(get(Role.ADMINISTRATOR)).hasStatus(HttpStatus.FORBIDDEN);
	}

	@ParameterizedTest
	@EnumSource(value = Role.class, names = "ADMINISTRATOR", mode = EnumSource.Mode.EXCLUDE)
	void entersEveryOpeningInTheAuditLog(Role role) {
		page(role);

		assertThat(
				this.database.sql("select count(*) from audit_entry where action = 'opened' and patient_id = :patient")
					.param("patient", this.patient.id().value())
					.query(Integer.class)
					.single())
			.isEqualTo(1);
	}

	@Test
	void isNotFoundWhereThereIsNoSuchPatient() {
		assertThat(this.pages.get()
			.uri("/patients/01980000-0000-7000-8000-000000000000")
			.with(this.staff.as(Role.FRONT_DESK))).hasStatus(HttpStatus.NOT_FOUND);
	}

}
