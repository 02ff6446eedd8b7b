package org.seriatim.assessment.web;

import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.Role;
import org.seriatim.assessment.AssessedPatients;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarType;
import org.seriatim.assessment.TrackedScars;
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
class ScarPageTests {

	private final MockMvcTester browser;

	private final TrackedScars scars;

	private final AssessedPatients patients;

	private final TestStaff staff;

	private PatientId patient = PatientId.next();

	@Autowired
	ScarPageTests(MockMvcTester browser, TrackedScars scars, JdbcClient database, TestStaff staff) {
		this.browser = browser;
		this.scars = scars;
		this.patients = new AssessedPatients(database);
		this.staff = staff;
	}

	@BeforeEach
	void registerPatient() {
		this.patient = this.patients.patient("K1");
	}

	@Test
	void offersTheMapAndTheNextLabelOfEachRegion() {
		this.patients.scar(this.patient, "CML4", Region.CHEEK_MEDIAL_LEFT, ScarType.BOXCAR);
		assertThat(get("/patients/" + this.patient + "/scars/new")).hasStatusOk()
			.bodyText()
			.contains("data-next-label=\"CML5\"", "data-region=\"cheek_medial_left\"", "value=\"2026-11-20\"",
					"Tamm, Tove");
	}

	@Test
	void tracksAScarUnderTheProposedLabel() {
		var answer = send("/patients/" + this.patient + "/scars/new", "region", "cheek_medial_left", "type", "boxcar",
				"firstRecordedOn", "2026-11-19", "mapX", "0.6533", "mapY", "0,5382");
		assertThat(answer).hasRedirectedUrl("/patients/" + this.patient);
		assertThat(answer).flash().containsEntry("notice", "assessment.scar.saved");
		var scar = this.scars.of(this.patient).get(0);
		assertThat(scar.label()).isEqualTo("CML1");
		assertThat(scar.y()).isEqualByComparingTo("0.5382");
	}

	@Test
	void leadsOnToTheNextScar() {
		assertThat(send("/patients/" + this.patient + "/scars/new", "region", "chin", "type", "boxcar",
				"firstRecordedOn", "2026-11-19", "another", "true"))
			.hasRedirectedUrl("/patients/" + this.patient + "/scars/new");
	}

	@Test
	void savesAMarkOutsideItsRegionAndSaysSo() {
		assertThat(send("/patients/" + this.patient + "/scars/new", "region", "chin", "type", "boxcar",
				"firstRecordedOn", "2026-11-19", "mapX", "0.1", "mapY", "0.1"))
			.flash()
			.containsEntry("notice", "assessment.scar.saved-outside");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', value = { "region | '' | Choose the region.", "type | '' | Choose the type.",
			"firstRecordedOn | '' | Enter the day on which it was first recorded.",
			"firstRecordedOn | 2026-11-21 | The day lies in the future.", "mapX | 1.2 | Enter a number from 0 to 1",
			"mapX | '' | Enter both numbers of the position, or neither.",
			"label | cml7 | Another scar of this patient has this label." })
	void saysAtTheFieldWhatToMendAndKeepsWhatWasTyped(String field, String typed, String message) {
		this.patients.scar(this.patient, "CML7", Region.CHEEK_MEDIAL_LEFT, ScarType.BOXCAR);
		var answer = send("/patients/" + this.patient + "/scars/new", "region", field.equals("region") ? typed : "chin",
				"type", field.equals("type") ? typed : "rolling", "firstRecordedOn",
				field.equals("firstRecordedOn") ? typed : "2026-11-19", "mapX", field.equals("mapX") ? typed : "0.5",
				"mapY", "0.8", "label", field.equals("label") ? typed : "X1");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains(message, "href=\"#" + field + "\"", "id=\"" + field + "-error\"", "value=\"0.8\"");
		assertThat(this.scars.of(this.patient)).hasSize(1);
	}

	@Test
	void correctsAScarWithAReason() {
		var scar = this.patients.scar(this.patient, "CML7", Region.CHEEK_MEDIAL_LEFT, ScarType.BOXCAR);
		assertThat(get("/scars/" + scar + "/edit")).hasStatusOk().bodyText().contains("value=\"CML7\"");
		assertThat(send("/scars/" + scar + "/edit", "region", "cheek_medial_left", "type", "rolling", "firstRecordedOn",
				"2026-01-05", "version", "0"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Say why it is corrected.");
		assertThat(send("/scars/" + scar + "/edit", "region", "cheek_medial_left", "type", "rolling", "firstRecordedOn",
				"2026-01-05", "version", "0", "reason", "looked again"))
			.hasRedirectedUrl("/patients/" + this.patient);
		assertThat(this.scars.byId(scar).orElseThrow().type()).isEqualTo(ScarType.ROLLING);
		assertThat(send("/scars/" + scar + "/edit", "region", "cheek_medial_left", "type", "ice_pick",
				"firstRecordedOn", "2026-01-05", "version", "0", "reason", "too late"))
			.hasStatus(HttpStatus.CONFLICT)
			.bodyText()
			.contains("too late");
	}

	@Test
	void answersUnknownOnesWithNotFound() {
		assertThat(get("/scars/" + UUID.randomUUID() + "/edit")).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(get("/patients/" + UUID.randomUUID() + "/scars/new")).hasStatus(HttpStatus.NOT_FOUND);
	}

	@ParameterizedTest
	@CsvSource({ "FRONT_DESK", "ASSISTANT", "ADMINISTRATOR" })
	void isClosedToThoseWhoMakeNoClinicalEntries(Role role) {
		assertThat(this.browser.get().uri("/patients/" + this.patient + "/scars/new").with(this.staff.as(role)))
			.hasStatus(HttpStatus.FORBIDDEN);
	}

	@Test
	void sendsStrangersToTheSignIn() {
		assertThat(this.browser.get()
			.uri("/patients/" + this.patient + "/scars/new")
			.with(SecurityMockMvcRequestPostProcessors.anonymous())).redirectedUrl().endsWith("/sign-in");
	}

	private MvcTestResult get(String address) {
		return this.browser.get().uri(address).exchange();
	}

	private MvcTestResult send(String address, String... fields) {
		var request = this.browser.post().uri(address).with(SecurityMockMvcRequestPostProcessors.csrf());
		for (int at = 0; at < fields.length; at += 2) {
			request = request.param(fields[at], fields[at + 1]);
		}
		return request.exchange();
	}

}
