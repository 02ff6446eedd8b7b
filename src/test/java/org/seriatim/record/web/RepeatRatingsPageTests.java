package org.seriatim.record.web;

import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;

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
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;

/** Eight scars that a practitioner rated today, 20 November 2026. */
@PageTest
class RepeatRatingsPageTests {

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	private PatientId patient = PatientId.next();

	private final List<ScarId> scars = new ArrayList<>();

	@BeforeEach
	void rateEightScars() {
		var patients = new AssessedPatients(this.database);
		this.patient = patients.patient("K1");
		for (int number = 1; number <= 8; number++) {
			this.scars.add(patients.scar(this.patient, "CML" + number, Region.CHEEK_MEDIAL_LEFT, ScarType.BOXCAR));
		}
		var fields = new ArrayList<Object>(List.of("assessedOn", "2026-11-20", "usualMethod", "gauge"));
		for (int at = 0; at < 8; at++) {
			fields.addAll(
					List.of("scars[" + at + "].scar", this.scars.get(at), "scars[" + at + "].depthMm", "0.47" + at));
		}
		post(Role.PRACTITIONER, "/patients/" + this.patient + "/assessments/new", fields.toArray());
	}

	@Test
	void proposesOnesOwnAndThoseOfOthersWithoutAnyValue() {
		assertThat(get(Role.PRACTITIONER, "/repeat-ratings")).hasStatusOk()
			.bodyText()
			.contains("Tamm, Tove", "Rate 8 scars again", "10 pairs, 5 further patients")
			.doesNotContain("0.47", "second=true");
		assertThat(get(Role.CLINIC_LEAD, "/repeat-ratings")).bodyText()
			.contains("Rate 8 scars<", "second=true")
			.doesNotContain("again<", "0.47");
		for (var page : List.of(own(), others())) {
			assertThat(get(page.equals(own()) ? Role.PRACTITIONER : Role.CLINIC_LEAD, page)).hasStatusOk()
				.bodyText()
				.contains("CML1", "CML8")
				.doesNotContain("0.47", "20 Nov 2026", "/photographs");
		}
	}

	@Test
	void mixesTheOrderTheSameEachTimeAndForEachAssessorAnew() {
		var order = labels(get(Role.PRACTITIONER, own()));
		assertThat(order).hasSize(8).doesNotHaveDuplicates();
		assertThat(labels(get(Role.PRACTITIONER, own()))).isEqualTo(order);
	}

	@Test
	void recordsASecondRatingAndCountsItsPair() {
		assertThat(rate(Role.PRACTITIONER, own(), "0.5")).hasRedirectedUrl("/repeat-ratings");
		assertThat(this.database.sql(
				"select repeat, blinded, depth_mm::text as depth from scar_assessment where scar_id = ? and repeat = 1")
			.param(this.scars.get(0).value())
			.query()
			.singleRow()).containsEntry("blinded", true).containsEntry("depth", "0.5");
		assertThat(text(get(Role.PRACTITIONER, "/repeat-ratings"))).contains("Rate 7 scars again")
			.containsSubsequence("of two assessors", "0 0", "of one assessor", "1 1 9 pairs, 4 further patients")
			.doesNotContain("0.5");
		assertThat(rate(Role.CLINIC_LEAD, others(), "0.6")).hasRedirectedUrl("/repeat-ratings");
		assertThat(this.database.sql("select count(*) from scar_assessment where repeat = 0 and blinded")
			.query(Integer.class)
			.single()).isOne();
		assertThat(text(get(Role.PRACTITIONER, "/repeat-ratings"))).containsSubsequence("of two assessors", "1 1");
		assertThat(RefusedForm.messages(rate(Role.PRACTITIONER, own(), "0.5"))).containsEntry("scars0.depthMm",
				"You have entered this for that day already. Correct the earlier entry instead.");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', value = { "deep|scars0.depthMm", "11|scars0.depthMm", "-1|scars0.depthMm" })
	void saysAtItsFieldWhatToMend(String depth, String field) {
		var answer = rate(Role.PRACTITIONER, own(), depth);
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT).bodyText().contains("value=\"" + depth + "\"");
		assertThat(RefusedForm.messages(answer)).containsKey(field);
	}

	@Test
	void refusesAnEmptyFormARatingWithoutAMethodAndOneWithoutAFirst() {
		assertThat(rate(Role.PRACTITIONER, own(), "")).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Nothing was entered.");
		assertThat(RefusedForm.messages(post(Role.PRACTITIONER, own(), "assessedOn", "2026-11-20", "scars[0].scar",
				this.scars.get(0), "scars[0].depthMm", "0.5")))
			.containsKey("scars0.depthMethod");
		assertThat(rate(Role.CLINIC_LEAD, own(), "0.5")).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("There is no first rating of this scar on that day.");
		assertThat(post(Role.PRACTITIONER, own(), "assessedOn", "2026-11-20", "usualMethod", "gauge", "scars[0].scar",
				"01980000-0000-7000-8000-000000000000", "scars[0].depthMm", "0.5"))
			.hasStatus(HttpStatus.BAD_REQUEST);
	}

	@Test
	void isForWhoMayAssess() {
		for (var role : List.of(Role.ASSISTANT, Role.FRONT_DESK, Role.ADMINISTRATOR)) {
			assertThat(get(role, "/repeat-ratings")).as(role.name()).hasStatus(HttpStatus.FORBIDDEN);
			assertThat(get(role, own())).as(role.name()).hasStatus(HttpStatus.FORBIDDEN);
		}
		assertThat(this.browser.get().uri("/repeat-ratings")).hasStatus(HttpStatus.FOUND);
		assertThat(get(Role.PRACTITIONER, "/patients")).bodyText().contains("/repeat-ratings");
		assertThat(get(Role.PRACTITIONER, "/patients/" + this.patient + "/assessments/new")).bodyText()
			.contains("/repeat-ratings");
	}

	private String own() {
		return "/patients/" + this.patient + "/repeat-rating";
	}

	private String others() {
		return own() + "?second=true";
	}

	private MvcTestResult rate(Role role, String address, String depth) {
		return post(role, address, "assessedOn", "2026-11-20", "usualMethod", "gauge", "scars[0].scar",
				this.scars.get(0), "scars[0].depthMm", depth);
	}

	private static List<String> labels(MvcTestResult result) {
		return Pattern.compile("CML\\d").matcher(text(result)).results().map((one) -> one.group()).toList();
	}

	private static String text(MvcTestResult result) {
		try {
			var html = result.getResponse().getContentAsString();
			var main = html.substring(html.indexOf("<main"), html.indexOf("</main>"));
			return main.replaceAll("<[^>]*>", " ").replaceAll("\\s+", " ");
		}
		catch (java.io.UnsupportedEncodingException ex) {
			throw new IllegalStateException(ex);
		}
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
