package org.seriatim.finding.web;

import java.time.Duration;
import java.util.List;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.seriatim.access.Role;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.patient.PatientId;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * What a possible emergency must do, after King et al. 2020, Murray et al. 2021 and
 * Walker et al. 2021 (signs): any single sign is enough, and nothing ticked afterwards
 * takes it back.
 */
@PageTest
class EmergencyPageTests {

	private static final String CAUTION = "Possible emergency. Follow this clinic&#39;s emergency protocol now and involve the responsible licensed clinician. This record gives no treatment or dosing advice.";

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	@Autowired
	TestClock clock;

	private PatientId patient;

	private SessionId session;

	@BeforeEach
	void treatSomebody() {
		var treatment = new TestTreatment(this.database);
		this.patient = treatment.patient("K1");
		this.session = treatment.session(treatment.series(this.patient), 1, "2026-11-02");
	}

	@ParameterizedTest
	@EnumSource
	void needsOneSignAndNothingElse(RedFlagSign sign) {
		assertThat(post(Role.FRONT_DESK, emergency(), "signs", sign.word())).hasRedirectedUrl(emergency());
		assertThat(this.database.sql("select * from finding").query().singleRow())
			.containsEntry("kind", sign.kind().word())
			.containsEntry("session_id", this.session.value())
			.doesNotContainEntry("raised_at", null);
		assertThat(FindingKind.valueOf(sign.kind().name()).isRedFlag()).isTrue();
		assertThat(get(Role.FRONT_DESK, emergency())).bodyText().contains(CAUTION, "Raised 20 Nov 2026");
	}

	@Test
	void isNotHeldUpByWhoAndHow() {
		assertThat(post(Role.FRONT_DESK, emergency(), "signs", "vision", "reporter", "nobody", "channel", "owl"))
			.hasRedirectedUrl(emergency());
		assertThat(this.database.sql("select reporter || ' ' || channel from finding_observation")
			.query(String.class)
			.single()).isEqualTo("patient phone");
	}

	@Test
	void asksForASign() {
		assertThat(RefusedForm.messages(post(Role.FRONT_DESK, emergency()))).containsEntry("signs",
				"Choose at least one sign.");
		assertThat(this.database.sql("select count(*) from finding").query(Integer.class).single()).isZero();
	}

	@Test
	void staysForEverybodyUntilAPractitionerHasClosedIt() {
		post(Role.FRONT_DESK, emergency(), "signs", "mottling");
		var finding = this.database.sql("select id from finding").query(UUID.class).single();
		for (var role : List.of(Role.FRONT_DESK, Role.ASSISTANT, Role.PRACTITIONER, Role.CLINIC_LEAD)) {
			assertThat(get(role, "/patients/" + this.patient)).as(role.name()).bodyText().contains(CAUTION);
		}
		assertThat(get(Role.FRONT_DESK, "/patients/" + this.patient)).bodyText().doesNotContain("Vascular", "mottled");
		this.clock.advance(Duration.ofMinutes(7));
		assertThat(post(Role.ASSISTANT, "/findings/" + finding + "/acknowledge")).hasStatus(HttpStatus.FORBIDDEN);
		assertThat(post(Role.PRACTITIONER, "/findings/" + finding + "/acknowledge"))
			.hasRedirectedUrl("/findings/" + finding);
		this.clock.advance(Duration.ofHours(3));
		post(Role.PRACTITIONER, "/findings/" + finding + "/acknowledge");
		assertThat(get(Role.PRACTITIONER, "/findings/" + finding)).bodyText()
			.contains(CAUTION, "by practitioner, after 7 min", "A net-like or mottled pattern of the skin");
		assertThat(get(Role.FRONT_DESK, emergency())).bodyText().contains(CAUTION, "after 7 min");
		post(Role.PRACTITIONER, "/findings/" + finding + "/close", "closedOn", "2026-11-20", "reason",
				"seen, refill equal on both sides", "version", "1");
		assertThat(get(Role.FRONT_DESK, "/patients/" + this.patient)).bodyText().doesNotContain(CAUTION);
		assertThat(get(Role.FRONT_DESK, emergency())).bodyText().doesNotContain(CAUTION);
	}

	@Test
	void keepsFurtherSignsWithTheOneThatIsOpen() {
		post(Role.FRONT_DESK, emergency(), "signs", "mottling");
		post(Role.PRACTITIONER, emergency(), "signs", "cool", "signs", "mottling", "reporter", "practitioner",
				"channel", "visit");
		var finding = this.database.sql("select id from finding").query(UUID.class).single();
		assertThat(get(Role.PRACTITIONER, "/findings/" + finding)).bodyText()
			.contains("A net-like or mottled pattern of the skin", "Cool or dusky skin");
		assertThat(this.database.sql("select count(*) from finding_observation").query(Integer.class).single())
			.isEqualTo(2);
	}

	@Test
	void isClosedToWhoSeesNoPatients() {
		assertThat(get(Role.ADMINISTRATOR, emergency())).hasStatus(HttpStatus.FORBIDDEN);
		assertThat(get(Role.FRONT_DESK, "/patients/01980000-0000-7000-8000-000000000000/emergency"))
			.hasStatus(HttpStatus.NOT_FOUND);
	}

	private String emergency() {
		return "/patients/" + this.patient + "/emergency";
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
