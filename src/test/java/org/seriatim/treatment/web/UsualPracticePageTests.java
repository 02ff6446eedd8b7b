package org.seriatim.treatment.web;

import java.util.LinkedHashMap;
import java.util.Map;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.seriatim.access.Role;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.domain.UsualPractices;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

@PageTest
@SignedInAs(Role.CLINIC_LEAD)
class UsualPracticePageTests {

	private static final String PAGE = "/setup/usual-practice";

	@Autowired
	MockMvcTester pages;

	@Autowired
	UsualPractices practices;

	@Autowired
	TestStaff staff;

	/* Figures of common practice, no source. */
	@Test
	void startsWithWhatIsCommonPractice() {
		assertThat(get(PAGE)).hasStatusOk()
			.bodyText()
			.contains("common practice, no source", "Change the usual practice", "Lateral before central")
			.containsPattern(
					"(?s)volume per point</th>\\s*<td class=\"number\">0.01</td>\\s*<td class=\"number\">0.03<")
			.containsPattern("(?s)needle length</th>\\s*<td class=\"number\">4</td>\\s*<td class=\"number\">4<")
			.containsPattern("(?s)volume in all</th>\\s*<td class=\"number\">–</td>\\s*<td class=\"number\">5<")
			.doesNotContain("??");
	}

	@ParameterizedTest
	@EnumSource(value = Role.class, names = { "PRACTITIONER", "ADMINISTRATOR" })
	void isReadByPractitionersAndAdministratorsButNotChanged(Role role) {
		assertThat(this.pages.get().uri(PAGE).with(this.staff.as(role))).hasStatusOk()
			.bodyText()
			.doesNotContain("Change the usual practice");
		assertThat(this.pages.get().uri(PAGE + "/new").with(this.staff.as(role))).hasStatus(HttpStatus.FORBIDDEN);
	}

	@Test
	@SignedInAs(Role.FRONT_DESK)
	void isNotForTheFrontDesk() {
		assertThat(get(PAGE)).hasStatus(HttpStatus.FORBIDDEN);
	}

	@Test
	void publishesTheNextVersionAndKeepsTheOneBeforeReadable() {
		assertThat(get(PAGE + "/new")).hasStatusOk()
			.bodyText()
			.contains("Publish version 2", "name=\"ranges[5].low\" value=\"0.01\"");
		assertThat(publish(form())).hasRedirectedUrl(PAGE);
		assertThat(get(PAGE)).bodyText()
			.contains("Ranges, version 2", "smaller points", "clinic_lead", "rub it &lt;gently&gt;")
			.containsPattern(
					"(?s)volume per point</th>\\s*<td class=\"number\">0.005</td>\\s*<td class=\"number\">0.01<")
			.doesNotContain("Lateral before central");
		assertThat(get(PAGE + "?version=1")).bodyText()
			.contains("Version 1 is not in force any more", "Lateral before central");
		assertThat(get(PAGE + "?version=3")).hasStatus(HttpStatus.NOT_FOUND);
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', textBlock = """
			ranges[5].low   | a drop | Enter a number from 0 to 1000 with at most 3 decimals.
			ranges[5].low   | 0.0001 | Enter a number from 0 to 1000 with at most 3 decimals.
			ranges[5].high  | -1     | Enter a number from 0 to 1000 with at most 3 decimals.
			ranges[5].high  | 0.004  | Must not be below the other end.
			reason          |        | Fill this in.
			""")
	void saysBesideTheFieldWhatToMend(String field, String value, String message) {
		var form = form();
		form.put(field, (value != null) ? value : "");
		var answer = publish(form);
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsOnly(Map.entry(field.replaceAll("[\\[\\]]", ""), message));
		assertThat(this.practices.current().number()).isEqualTo(1);
	}

	@Test
	void publishesNothingThatIsInForceAlready() {
		publish(form());
		var again = form();
		again.put("basedOn", "2");
		assertThat(publish(again)).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Nothing differs from the version in force");
	}

	@Test
	void answersWithAConflictWhenSomebodyElsePublished() {
		publish(form());
		var stale = form();
		stale.put("ranges[5].high", "0.02");
		assertThat(publish(stale)).hasStatus(HttpStatus.CONFLICT);
		assertThat(this.practices.current().number()).isEqualTo(2);
	}

	private MvcTestResult get(String address) {
		return this.pages.get().uri(address).exchange();
	}

	private MvcTestResult publish(Map<String, String> form) {
		var request = this.pages.post().uri(PAGE + "/new").with(csrf());
		form.forEach(request::param);
		return request.exchange();
	}

	/** Points smaller than usual, and one note. */
	private static Map<String, String> form() {
		var form = new LinkedHashMap<String, String>();
		form.put("basedOn", "1");
		form.put("ranges[5].measure", "point_ml");
		form.put("ranges[5].low", "0.005");
		form.put("ranges[5].high", "0.01");
		form.put("notes[12].topic", "after_a_side");
		form.put("notes[12].note", " rub it <gently> ");
		form.put("reason", "smaller points");
		return form;
	}

}
