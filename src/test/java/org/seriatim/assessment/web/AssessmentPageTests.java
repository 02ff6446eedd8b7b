package org.seriatim.assessment.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.Role;
import org.seriatim.assessment.AssessedPatients;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarType;
import org.seriatim.patient.PatientId;
import org.seriatim.support.PageTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestStaff;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;

@PageTest
@SignedInAs(Role.PRACTITIONER)
class AssessmentPageTests {

	private final MockMvcTester browser;

	private final JdbcClient database;

	private final AssessedPatients patients;

	private final TestStaff staff;

	private PatientId patient = PatientId.next();

	private ScarId boxcar = ScarId.next();

	private ScarId keloid = ScarId.next();

	@Autowired
	AssessmentPageTests(MockMvcTester browser, JdbcClient database, TestStaff staff) {
		this.browser = browser;
		this.database = database;
		this.patients = new AssessedPatients(database);
		this.staff = staff;
	}

	@BeforeEach
	void registerPatient() {
		this.patient = this.patients.patient("K1");
		this.boxcar = this.patients.scar(this.patient, "CML1", Region.CHEEK_MEDIAL_LEFT, ScarType.BOXCAR);
		this.keloid = this.patients.scar(this.patient, "JL1", Region.JAWLINE_LEFT, ScarType.KELOID);
	}

	@Test
	void showsAllTrackedScarsPoresAndScalesForToday() {
		assertThat(get("new")).hasStatusOk()
			.bodyText()
			.contains("value=\"2026-11-20\"", "CML1", "JL1", "Left medial cheek", "name=\"scars[0].depthMm\"",
					"name=\"scars[1].severity\"", "name=\"pores[17].grade\"", "name=\"scales[0].value\"",
					"2 · much improved", "practitioner")
			.doesNotContain("name=\"scars[1].depthMm\"", "??");
	}

	@Test
	void tellsWhatToDoWhileNoScarIsTracked() {
		var other = this.patients.patient("K2");
		assertThat(this.browser.get().uri("/patients/" + other + "/assessments/new")).hasStatusOk()
			.bodyText()
			.contains("No scar is tracked yet", "/patients/" + other + "/scars/new");
	}

	@Test
	void savesWhatWasEnteredInOneGoAndShowsTheDay() {
		var answer = send("new", "assessedOn", "2026-11-20", "usualMethod", "gauge", "scars[0].scar", id(this.boxcar),
				"scars[0].lengthMm", "4,3", "scars[0].widthMm", "4.5", "scars[0].depthMm", "0.27", "scars[0].severity",
				"1", "scars[1].scar", id(this.keloid), "pores[0].region", "nose", "pores[0].grade", "3",
				"scales[0].item", "gais.practitioner", "scales[0].value", "-1", "scales[1].item", "gb-quant.total",
				"scales[1].value", "22");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("A scar is not shorter than wide.", "value=\"4,3\"", "id=\"scars0.lengthMm-error\"");
		assertThat(count("scar_assessment")).isZero();

		answer = send("new", "assessedOn", "2026-11-20", "usualMethod", "gauge", "scars[0].scar", id(this.boxcar),
				"scars[0].lengthMm", "4,6", "scars[0].widthMm", "4.5", "scars[0].depthMm", "0.27", "scars[0].severity",
				"1", "scars[1].scar", id(this.keloid), "pores[0].region", "nose", "pores[0].grade", "3",
				"scales[0].item", "gais.practitioner", "scales[0].value", "-1", "scales[1].item", "gb-quant.total",
				"scales[1].value", "22");
		assertThat(answer).hasRedirectedUrl("/patients/" + this.patient + "/assessments/2026-11-20");
		assertThat(
				this.database.sql("select length_mm || ' ' || depth_method || ' ' || depth_class from scar_assessment")
					.query(String.class)
					.list())
			.containsExactly("4.6 gauge shallow");
		assertThat(get("2026-11-20")).hasStatusOk()
			.bodyText()
			.contains("By practitioner", "CML1", "0.27", "Shallow", "gauge", "wider than usual for its type",
					"−1 · worse", "Goodman–Baron total")
			.doesNotContain("JL1", "??");
		assertThat(this.browser.get().uri("/patients/" + this.patient + "/assessments")).hasStatusOk()
			.bodyText()
			.contains("20 Nov 2026");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|',
			value = { "scars[0].lengthMm | 301 | Enter a number from 0.001 to 300 mm",
					"scars[0].lengthMm | 0 | Enter a number from 0.001 to 300 mm",
					"scars[0].widthMm | 100.5 | Enter a number from 0.001 to 100 mm",
					"scars[0].widthMm | wide | Enter a number from 0.001 to 100 mm",
					"scars[0].depthMm | 11 | Enter a number from 0 to 10 mm",
					"scars[0].depthMm | -0.1 | Enter a number from 0 to 10 mm",
					"scars[0].severity | 5 | Enter a whole number from 0 to 4.",
					"scars[0].severity | 1.5 | Enter a whole number from 0 to 4.",
					"scars[0].response | -2 | Enter a whole number from -1 to 4.",
					"scars[0].depthClass | deep | The class contradicts the depth",
					"scars[0].depthClass | bottomless | Choose one of the values offered.",
					"usualMethod | '' | Say how the depth was obtained",
					"usualMethod | guessed | Choose one of the values offered.",
					"pores[0].grade | 5 | Enter a whole number from 0 to 4.",
					"pores[0].poresPerCm2 | -1 | Enter a number from 0 to 10000",
					"scales[0].value | 4 | Enter a whole number from -1 to 3.",
					"scales[0].value | 1.5 | Enter a whole number from -1 to 3.",
					"scales[0].value | good | Enter a whole number from -1 to 3.", "assessedOn | '' | Enter the day.",
					"assessedOn | 2026-11-21 | The day lies in the future.",
					"assessedOn | 20.11.2026 | Enter a date as year-month-day" })
	void saysAtTheFieldWhatToMendKeepsWhatWasTypedAndStoresNothing(String field, String typed, String message) {
		var fields = new String[] { "assessedOn", "2026-11-20", "usualMethod", "gauge", "scars[0].scar",
				id(this.boxcar), "scars[0].lengthMm", "4", "scars[0].widthMm", "3", "scars[0].depthMm", "0.3",
				"scars[0].depthClass", "", "scars[0].severity", "1", "scars[0].response", "1", "pores[0].region",
				"nose", "pores[0].grade", "3", "pores[0].poresPerCm2", "40", "scales[0].item", "gais.patient",
				"scales[0].value", "2" };
		fields[Arrays.asList(fields).indexOf(field) + 1] = typed;
		var answer = send("new", fields);
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains(message, "Please mend this first")
			.doesNotContain("??");
		if (!typed.isEmpty() && !field.matches(".*(depthClass|usualMethod|scales.*)")) {
			assertThat(answer).bodyText().contains("value=\"" + typed + "\"");
		}
		for (String table : new String[] { "scar_assessment", "pore_assessment", "global_assessment" }) {
			assertThat(count(table)).isZero();
		}
	}

	@Test
	void refusesADepthOfARaisedScar() {
		assertThat(send("new", "assessedOn", "2026-11-20", "usualMethod", "gauge", "scars[0].scar", id(this.keloid),
				"scars[0].depthMm", "0.4"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("A raised or flat scar has no depth.");
	}

	@Test
	void refusesAnEmptyForm() {
		assertThat(send("new", "assessedOn", "2026-11-20", "scars[0].scar", id(this.boxcar)))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Nothing was entered.");
	}

	@ParameterizedTest
	@CsvSource({ "scars[0].scar, 019b0000-0000-7000-8000-000000000000", "scars[0].scar, nonsense",
			"pores[0].region, elbow", "scales[0].item, gais.neighbour", "version, first" })
	void refusesWhatTheFormDidNotOffer(String field, String value) {
		assertThat(send("new", "assessedOn", "2026-11-20", field, value)).hasStatus(HttpStatus.BAD_REQUEST);
	}

	@Test
	void showsTheLastValuesButNotThoseOfTheDayItself() {
		rate("2026-10-01", "0.61", 0);
		rate("2026-11-20", "0.47", 0);
		assertThat(get("new")).bodyText().contains("last 1 Oct 2026", ">0.61<").doesNotContain("0.47");
	}

	@Test
	void refusesASecondEntryAtItsLine() {
		rate("2026-11-20", "0.47", 0);
		assertThat(send("new", "assessedOn", "2026-11-20", "usualMethod", "gauge", "scars[0].scar", id(this.boxcar),
				"scars[0].depthMm", "0.5"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("You have entered this for that day already.", "id=\"scars0.lengthMm-error\"");
	}

	@Test
	void hidesEverythingEarlierFromABlindedRepeat() {
		assertThat(get("new?repeat=true")).hasStatusOk().bodyText().contains("Nothing to repeat yet");
		rate("2026-10-01", "0.61", 0);
		rate("2026-11-20", "0.47", 0);
		assertThat(get("new?repeat=true")).hasStatusOk()
			.bodyText()
			.contains("CML1", "name=\"scars[0].depthMm\"")
			.doesNotContain("0.61", "0.47", "last 1 Oct 2026", "JL1", "scars[0].response", "pores[0]", "scales[0]");
		assertThat(send("new?repeat=true", "assessedOn", "2026-11-20", "usualMethod", "gauge", "scars[0].scar",
				id(this.boxcar), "scars[0].depthMm", "0.5"))
			.hasRedirectedUrl("/patients/" + this.patient + "/assessments/2026-11-20");
		assertThat(this.database.sql("select depth_mm from scar_assessment where repeat = 1")
			.query(BigDecimal.class)
			.list()).containsExactly(new BigDecimal("0.5"));
		assertThat(get("2026-11-20")).bodyText().contains("Blinded repeat", "Correct the repeat");
	}

	@Test
	void refusesARepeatWithoutAFirstRating() {
		assertThat(send("new?repeat=true", "assessedOn", "2026-11-19", "usualMethod", "gauge", "scars[0].scar",
				id(this.boxcar), "scars[0].depthMm", "0.5"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("There is no first rating of this scar on that day.");
	}

	@Test
	void correctsADayWithAReason() {
		rate("2026-11-20", "0.47", 0);
		var edit = "2026-11-20/" + me() + "/edit";
		assertThat(get(edit)).hasStatusOk()
			.bodyText()
			.contains("value=\"0.47\"", "name=\"version\" value=\"1\"", "Why is it corrected?");
		assertThat(send(edit, "assessedOn", "2026-11-20", "version", "1", "usualMethod", "gauge", "scars[0].scar",
				id(this.boxcar), "scars[0].depthMm", "0.48"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Say why it is corrected.", "value=\"0.48\"");
		assertThat(send(edit, "assessedOn", "2026-11-19", "version", "1", "usualMethod", "gauge", "scars[0].scar",
				id(this.boxcar), "scars[0].depthMm", "0.48", "reason", "the wrong day"))
			.hasRedirectedUrl("/patients/" + this.patient + "/assessments/2026-11-19");
		assertThat(get("2026-11-19")).bodyText().contains("0.48", "/history/scar_assessment/");
		assertThat(get("2026-11-20")).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(get(edit)).hasStatus(HttpStatus.NOT_FOUND);
	}

	@Test
	void givesBackWhatWasTypedWhenSomebodyElseWasFaster() {
		rate("2026-11-20", "0.47", 0);
		assertThat(send("2026-11-20/" + me() + "/edit", "assessedOn", "2026-11-20", "version", "0", "usualMethod",
				"gauge", "scars[0].scar", id(this.boxcar), "scars[0].depthMm", "0.48", "reason", "too late"))
			.hasStatus(HttpStatus.CONFLICT)
			.bodyText()
			.contains("too late", "0.48");
	}

	@Test
	void keepsANumberOfAScaleFromBeingTakenBack() {
		send("new", "assessedOn", "2026-11-20", "scales[0].item", "gb-qual.grade", "scales[0].value", "3");
		assertThat(send("2026-11-20/" + me() + "/edit", "assessedOn", "2026-11-20", "version", "1", "scales[0].item",
				"gb-qual.grade", "reason", "wrong"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("A value once entered can be corrected, not taken back.");
	}

	@Test
	void takesAVisitOf300Scars() {
		var fields = new ArrayList<String>(List.of("assessedOn", "2026-11-20", "usualMethod", "gauge"));
		for (int at = 0; at < 300; at++) {
			var scar = this.patients.scar(this.patient, "F" + at, Region.FOREHEAD, ScarType.ICE_PICK);
			fields.addAll(List.of("scars[" + at + "].scar", id(scar), "scars[" + at + "].depthMm", "0.6"));
		}
		assertThat(send("new", fields.toArray(String[]::new)))
			.hasRedirectedUrl("/patients/" + this.patient + "/assessments/2026-11-20");
		assertThat(count("scar_assessment")).isEqualTo(300);
		assertThat(get("new")).hasStatusOk();
	}

	@Test
	void answersUnknownOnesWithNotFound() {
		assertThat(get("2026-01-01")).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(get("2026-01-01/" + me() + "/edit")).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(get("yesterday")).hasStatus(HttpStatus.BAD_REQUEST);
		assertThat(this.browser.get().uri("/patients/" + UUID.randomUUID() + "/assessments/new"))
			.hasStatus(HttpStatus.NOT_FOUND);
	}

	@Test
	void letsAnAssistantReadAndNotWrite() {
		rate("2026-11-20", "0.47", 0);
		var day = "/patients/" + this.patient + "/assessments/2026-11-20";
		assertThat(this.browser.get().uri(day).with(this.staff.as(Role.ASSISTANT))).hasStatusOk()
			.bodyText()
			.contains("0.47")
			.doesNotContain("Correct the assessment");
		assertThat(this.browser.get()
			.uri("/patients/" + this.patient + "/assessments/new")
			.with(this.staff.as(Role.ASSISTANT))).hasStatus(HttpStatus.FORBIDDEN);
	}

	@ParameterizedTest
	@CsvSource({ "FRONT_DESK", "ADMINISTRATOR" })
	void isClosedToThoseWhoSeeNoScores(Role role) {
		for (String address : new String[] { "/assessments", "/assessments/new", "/assessments/2026-11-20" }) {
			assertThat(this.browser.get().uri("/patients/" + this.patient + address).with(this.staff.as(role)))
				.hasStatus(HttpStatus.FORBIDDEN);
		}
	}

	@Test
	void sendsStrangersToTheSignIn() {
		assertThat(this.browser.get()
			.uri("/patients/" + this.patient + "/assessments")
			.with(SecurityMockMvcRequestPostProcessors.anonymous())).redirectedUrl().endsWith("/sign-in");
	}

	private void rate(String day, String depth, int repeat) {
		this.database
			.sql("""
					insert into scar_assessment (patient_id, scar_id, assessed_on, assessor_id, repeat, depth_mm, depth_method)
					values (:patient, :scar, :day, :me, :repeat, :depth, 'gauge')""")
			.param("patient", this.patient.value())
			.param("scar", this.boxcar.value())
			.param("day", LocalDate.parse(day))
			.param("me", me())
			.param("repeat", repeat)
			.param("depth", new BigDecimal(depth))
			.update();
	}

	private UUID me() {
		return this.database.sql("select id from staff where name = 'practitioner'").query(UUID.class).single();
	}

	private static String id(ScarId scar) {
		return scar.toString();
	}

	private long count(String table) {
		return this.database.sql("select count(*) from " + table).query(Long.class).single();
	}

	private MvcTestResult get(String address) {
		return this.browser.get().uri("/patients/" + this.patient + "/assessments/" + address).exchange();
	}

	private MvcTestResult send(String address, String... fields) {
		var request = this.browser.post()
			.uri("/patients/" + this.patient + "/assessments/" + address)
			.with(SecurityMockMvcRequestPostProcessors.csrf());
		for (int at = 0; at < fields.length; at += 2) {
			request = request.param(fields[at], fields[at + 1]);
		}
		return request.exchange();
	}

}
