package org.seriatim.assessment.web;

import java.time.LocalDate;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.Role;
import org.seriatim.assessment.AssessedPatients;
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
class CountsPageTests {

	private final MockMvcTester browser;

	private final JdbcClient database;

	private final TestStaff staff;

	private PatientId patient = PatientId.next();

	@Autowired
	CountsPageTests(MockMvcTester browser, JdbcClient database, TestStaff staff) {
		this.browser = browser;
		this.database = database;
		this.staff = staff;
	}

	@BeforeEach
	void registerPatient() {
		this.patient = new AssessedPatients(this.database).patient("K1");
	}

	@Test
	void showsAGridOfRegionsAndTypesWithTheLastCounts() {
		count("2026-10-01", "nose", "boxcar", 7);
		assertThat(get("/counts")).hasStatusOk()
			.bodyText()
			.contains("name=\"regions[0].icePick\"", "name=\"regions[17].unclassified\"", "Elastolysis", "Neck", ">7<",
					"not in ECCA")
			.doesNotContain("??");
	}

	@Test
	void storesWhatWasCountedAndNothingForAnEmptyCell() {
		assertThat(send("/counts", "assessedOn", "2026-11-20", "regions[0].region", "nose", "regions[0].boxcar", "0",
				"regions[0].icePick", "4"))
			.hasRedirectedUrl("/patients/" + this.patient + "/assessments/2026-11-20");
		assertThat(this.database.sql("select type || ' ' || count from scar_count order by type")
			.query(String.class)
			.list()).containsExactly("boxcar 0", "ice_pick 4");
		assertThat(get("/assessments/2026-11-20")).hasStatusOk()
			.bodyText()
			.contains("No ECCA score: 100 of the 102 counts of the face are missing.")
			.doesNotContain("??");
	}

	@Test
	void scoresAFaceThatWasCountedAsAWhole() {
		send("/counts", "assessedOn", "2026-11-20", "wholeFace", "true", "regions[0].region", "nose",
				"regions[0].icePick", "12", "regions[1].region", "chin", "regions[1].boxcar", "3", "regions[2].region",
				"neck", "regions[2].keloid", "2");
		// V 12 and U 3 of the face: 2 x 15 + 1 x 20; the neck is not of the face
		assertThat(get("/assessments/2026-11-20")).bodyText()
			.contains("ECCA", ">50<", "50 atrophic and 0 raised, of 540", "written down from memory");
		assertThat(get("/assessments")).bodyText().contains(">50<");
		assertThat(this.database.sql("select count(*) from scar_count").query(Integer.class).single()).isEqualTo(103);
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|',
			value = { "regions[0].boxcar | -1 | Enter a whole number from 0 to 999.",
					"regions[0].boxcar | 1.5 | Enter a whole number from 0 to 999.",
					"regions[0].boxcar | many | Enter a whole number from 0 to 999.",
					"regions[0].boxcar | '' | Nothing was counted.",
					"assessedOn | 2026-11-21 | The day lies in the future.", "assessedOn | '' | Enter the day." })
	void saysAtTheFieldWhatToMendAndStoresNothing(String field, String typed, String message) {
		var answer = send("/counts", "assessedOn", field.equals("assessedOn") ? typed : "2026-11-20",
				"regions[0].region", "nose", "regions[0].boxcar", field.equals("assessedOn") ? "3" : typed);
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT).bodyText().contains(message);
		if (!typed.isEmpty()) {
			assertThat(answer).bodyText().contains("value=\"" + typed + "\"");
		}
		assertThat(this.database.sql("select count(*) from scar_count").query(Integer.class).single()).isZero();
	}

	@Test
	void refusesASecondCountAtItsCell() {
		count("2026-11-20", "nose", "boxcar", 7);
		assertThat(send("/counts", "assessedOn", "2026-11-20", "regions[0].region", "nose", "regions[0].boxcar", "3"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("You have counted this on that day already.", "id=\"regions0.boxcar-error\"");
	}

	@Test
	void correctsACountWithAReasonAndNeverTakesOneBack() {
		count("2026-11-20", "nose", "boxcar", 7);
		var edit = "/counts/2026-11-20/" + me() + "/edit";
		assertThat(get(edit)).hasStatusOk().bodyText().contains("value=\"7\"");
		assertThat(
				send(edit, "assessedOn", "2026-11-20", "version", "1", "regions[0].region", "nose", "reason", "wrong"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("A count once entered can be corrected, not taken back.");
		assertThat(send(edit, "assessedOn", "2026-11-20", "version", "1", "regions[0].region", "nose",
				"regions[0].boxcar", "6"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Say why it is corrected.");
		assertThat(send(edit, "assessedOn", "2026-11-20", "version", "1", "regions[0].region", "nose",
				"regions[0].boxcar", "6", "reason", "counted again"))
			.hasRedirectedUrl("/patients/" + this.patient + "/assessments/2026-11-20");
		assertThat(get("/assessments/2026-11-20")).bodyText().contains("/history/scar_count/");
		assertThat(send(edit, "assessedOn", "2026-11-20", "version", "1", "regions[0].region", "nose",
				"regions[0].boxcar", "5", "reason", "too late"))
			.hasStatus(HttpStatus.CONFLICT);
	}

	@Test
	void refusesWhatTheFormDidNotOffer() {
		assertThat(send("/counts", "assessedOn", "2026-11-20", "regions[0].region", "elbow", "regions[0].boxcar", "1"))
			.hasStatus(HttpStatus.BAD_REQUEST);
	}

	@ParameterizedTest
	@CsvSource({ "FRONT_DESK", "ASSISTANT", "ADMINISTRATOR" })
	void isClosedToThoseWhoMakeNoClinicalEntries(Role role) {
		assertThat(this.browser.get().uri("/patients/" + this.patient + "/counts").with(this.staff.as(role)))
			.hasStatus(HttpStatus.FORBIDDEN);
	}

	private void count(String day, String region, String type, int count) {
		this.database.sql("""
				insert into scar_count (patient_id, region, type, assessed_on, assessor_id, count)
				values (:patient, :region, :type, :day, :me, :count)""")
			.param("patient", this.patient.value())
			.param("region", region)
			.param("type", type)
			.param("day", LocalDate.parse(day))
			.param("me", me())
			.param("count", count)
			.update();
	}

	private UUID me() {
		return this.database.sql("select id from staff where name = 'practitioner'").query(UUID.class).single();
	}

	private MvcTestResult get(String address) {
		return this.browser.get().uri("/patients/" + this.patient + address).exchange();
	}

	private MvcTestResult send(String address, String... fields) {
		var request = this.browser.post()
			.uri("/patients/" + this.patient + address)
			.with(SecurityMockMvcRequestPostProcessors.csrf());
		for (int at = 0; at < fields.length; at += 2) {
			request = request.param(fields[at], fields[at + 1]);
		}
		return request.exchange();
	}

}
