package org.seriatim.assessment.web;

import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
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
import org.seriatim.support.RefusedForm;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;

/** What became of two boxcar scars, on 20 November 2026. */
@PageTest
class ScarStatePageTests {

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	private PatientId patient = PatientId.next();

	private ScarId first = ScarId.next();

	private ScarId second = ScarId.next();

	@BeforeEach
	void trackTwoScars() {
		var patients = new AssessedPatients(this.database);
		this.patient = patients.patient("K1");
		this.first = patients.scar(this.patient, "CML1", Region.CHEEK_MEDIAL_LEFT, ScarType.BOXCAR);
		this.second = patients.scar(this.patient, "CML2", Region.CHEEK_MEDIAL_LEFT, ScarType.BOXCAR);
	}

	@Test
	void saysWithWhichOneAScarMergedAndWhoClassifiedIt() {
		assertThat(get(Role.PRACTITIONER, states() + "/new")).hasStatusOk()
			.bodyText()
			.contains("value=\"2026-11-20\"", "CML1", "CML2", "merged into another", "not found");
		assertThat(say("merged", "cml2", "")).hasRedirectedUrl(states());
		assertThat(get(Role.ASSISTANT, states())).hasStatusOk()
			.bodyText()
			.contains("20 Nov 2026", "CML1", "merged into another", "CML2", "practitioner")
			.doesNotContain("/edit", "/scar-states/new");
		assertThat(
				this.database.sql("select count(*) from audit_entry where action = 'created' and kind = 'scar_state'")
					.query(Integer.class)
					.single())
			.isOne();
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|',
			value = { "merged|||rows0.into|Enter the label of the one scar with which it merged.",
					"merged|CML9||rows0.into|No tracked scar of this patient has the label CML9.",
					"merged|CML1||rows0.into|It cannot have become itself.",
					"split|CML2||rows0.into|Enter the labels of the two or more scars that it became.",
					"not_found|CML2||rows0.into|Only a scar that merged or split became another one. Leave it empty.",
					"excluded|||rows0.why|Say why it is followed no longer.",
					"assessed|||rows0.state|You did not measure it on that day. Enter the measurement first.",
					"gone|||rows0.state|Choose one of the values offered.",
					"||a reason|rows0.state|Choose what became of it." })
	void refusesWhatCannotBe(@Nullable String state, @Nullable String into, @Nullable String why, String field,
			String message) {
		var answer = say((state != null) ? state : "", (into != null) ? into : "", (why != null) ? why : "");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer).get(field)).startsWith(message);
		assertThat(count()).isZero();
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', value = { "2026-11-21|assessedOn", "yesterday|assessedOn", "|assessedOn" })
	void refusesADayThatCannotBe(@Nullable String day, String field) {
		var answer = post(Role.PRACTITIONER, states() + "/new", "assessedOn", (day != null) ? day : "", "rows[0].scar",
				this.first, "rows[0].state", "not_found");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsKey(field);
	}

	@Test
	void refusesAnEmptyFormAndWhatItDidNotOffer() {
		assertThat(say("", "", "")).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Choose what became of at least one scar.");
		assertThat(post(Role.PRACTITIONER, states() + "/new", "assessedOn", "2026-11-20", "rows[0].scar",
				"01980000-0000-7000-8000-000000000000", "rows[0].state", "not_found"))
			.hasStatus(HttpStatus.BAD_REQUEST);
	}

	@Test
	void contradictsNoMeasurementOfTheSameAssessorAndDay() {
		rate(Role.PRACTITIONER, "0.4");
		assertThat(RefusedForm.messages(say("not_found", "", ""))).containsEntry("rows0.state",
				"You measured it on that day.");
		assertThat(RefusedForm.messages(say("resolved", "", ""))).containsEntry("rows0.state",
				"On that day you measured more than a minimal depth.");
		assertThat(say("assessed", "", "")).hasRedirectedUrl(states());
		assertThat(RefusedForm.messages(say("excluded", "", "x"))).containsEntry("rows0.state",
				"You have said what became of it on that day. Correct that.");
	}

	@Test
	void correctsByANewVersionWithAReason() {
		say("excluded", "", "operated elsewhere");
		var edit = "/scar-states/" + this.database.sql("select id from scar_state").query(UUID.class).single()
				+ "/edit";
		assertThat(get(Role.PRACTITIONER, edit)).hasStatusOk().bodyText().contains("operated elsewhere", "20 Nov 2026");
		assertThat(RefusedForm.messages(correct(edit, "0", "")).get("reason")).startsWith("Say why it is corrected.");
		assertThat(correct(edit, "0", "found after all")).hasRedirectedUrl(states());
		assertThat(correct(edit, "0", "too late")).hasStatus(HttpStatus.CONFLICT);
		var history = "/history/scar_state/" + edit.split("/")[2];
		assertThat(get(Role.ASSISTANT, states())).bodyText().contains("not found", history);
		assertThat(get(Role.ASSISTANT, history)).hasStatusOk()
			.bodyText()
			.contains("excluded", "not found", "operated elsewhere", "found after all");
	}

	/** Two assessors on one day: both are kept, in measurements and in what they say. */
	@Test
	void keepsWhatTwoAssessorsFoundOnOneDay() {
		rate(Role.PRACTITIONER, "0.4");
		rate(Role.CLINIC_LEAD, "0.6");
		assertThat(this.database.sql("select depth_mm::text from scar_assessment order by depth_mm")
			.query(String.class)
			.list()).containsExactly("0.4", "0.6");
		assertThat(get(Role.PRACTITIONER, "/patients/" + this.patient + "/assessments/2026-11-20")).bodyText()
			.contains("By practitioner", "By clinic_lead", ">0.4<", ">0.6<");
		for (var role : List.of(Role.PRACTITIONER, Role.CLINIC_LEAD)) {
			assertThat(post(role, states() + "/new", "assessedOn", "2026-11-20", "rows[0].scar", this.second,
					"rows[0].state", (role == Role.PRACTITIONER) ? "not_found" : "not_assessed"))
				.hasRedirectedUrl(states());
		}
		assertThat(count()).isEqualTo(2);
	}

	@Test
	void countsWhatIsLeftOutOnThePageOfTheSeriesWithItsReason() {
		var treatment = new TestTreatment(this.database);
		var series = treatment.series(this.patient);
		treatment.session(series, 1, "2026-10-01");
		for (var scar : List.of(this.first, this.second)) {
			for (var rating : List.of("2026-09-30 0.8", "2026-11-12 0.4")) {
				this.database
					.sql("""
							insert into scar_assessment (patient_id, scar_id, assessed_on, assessor_id, repeat, depth_mm, depth_method)
							values (?, ?, cast(? as date), ?, 0, cast(? as numeric), 'gauge')""")
					.params(this.patient.value(), scar.value(), rating.split(" ")[0], treatment.practitioner().value(),
							rating.split(" ")[1])
					.update();
			}
		}
		assertThat(get(Role.PRACTITIONER, "/series/" + series)).bodyText().contains("50 % (2)");
		say("excluded", "", "operated elsewhere");
		assertThat(get(Role.PRACTITIONER, "/series/" + series)).bodyText()
			.contains("50 % (1)", "Left out", "left out since 20 Nov 2026: excluded: operated elsewhere");
		post(Role.PRACTITIONER, states() + "/new", "assessedOn", "2026-11-20", "rows[0].scar", this.second,
				"rows[0].state", "resolved");
		assertThat(get(Role.PRACTITIONER, "/series/" + series)).bodyText().contains("100 % (1)");
	}

	@Test
	void staysAsTheStateOfNobodysScarAfterAnErasure() {
		say("excluded", "", "Tove moved away");
		this.database.sql("select erase_patient(?, now(), null, 'patient_request', null)")
			.param(this.patient.value())
			.query((row, index) -> "")
			.list();
		assertThat(this.database.sql("select state, reason from scar_state").query().singleRow())
			.containsEntry("state", "excluded")
			.containsEntry("reason", "erased");
		assertThat(this.database.sql("select count(*) from scar_state where patient_id = ?")
			.param(this.patient.value())
			.query(Integer.class)
			.single()).isZero();
	}

	@Test
	void isForWhoMayAssess() {
		assertThat(get(Role.FRONT_DESK, states())).hasStatus(HttpStatus.FORBIDDEN);
		for (var role : List.of(Role.ASSISTANT, Role.FRONT_DESK, Role.ADMINISTRATOR)) {
			assertThat(get(role, states() + "/new")).as(role.name()).hasStatus(HttpStatus.FORBIDDEN);
		}
		assertThat(this.browser.get().uri(states())).hasStatus(HttpStatus.FOUND);
		assertThat(get(Role.PRACTITIONER, "/scar-states/01980000-0000-7000-8000-000000000000/edit"))
			.hasStatus(HttpStatus.NOT_FOUND);
	}

	private String states() {
		return "/patients/" + this.patient + "/scar-states";
	}

	private MvcTestResult say(String state, String into, String why) {
		return post(Role.PRACTITIONER, states() + "/new", "assessedOn", "2026-11-20", "rows[0].scar", this.first,
				"rows[0].state", state, "rows[0].into", into, "rows[0].why", why);
	}

	private MvcTestResult correct(String edit, String version, String reason) {
		return post(Role.PRACTITIONER, edit, "assessedOn", "2026-11-20", "version", version, "rows[0].scar", this.first,
				"rows[0].state", "not_found", "rows[0].into", "", "rows[0].why", "", "reason", reason);
	}

	private void rate(Role role, String depth) {
		assertThat(post(role, "/patients/" + this.patient + "/assessments/new", "assessedOn", "2026-11-20",
				"usualMethod", "gauge", "scars[0].scar", this.first, "scars[0].depthMm", depth))
			.hasStatus(HttpStatus.FOUND);
	}

	private int count() {
		return this.database.sql("select count(*) from scar_state").query(Integer.class).single();
	}

	private MvcTestResult get(Role role, String address) {
		return this.browser.get().uri(address).with(this.staff.as(role)).exchange();
	}

	private MvcTestResult post(Role role, String address, Object... fields) {
		var request = this.browser.post()
			.uri(address)
			.with(SecurityMockMvcRequestPostProcessors.csrf())
			.with(this.staff.as(role));
		for (int i = 0; i < fields.length; i += 2) {
			request.param(fields[i].toString(), fields[i + 1].toString());
		}
		return request.exchange();
	}

}
