package org.seriatim.screening.web;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.seriatim.access.Role;
import org.seriatim.patient.PatientId;
import org.seriatim.screening.ScreeningItem;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

@PageTest
@SignedInAs(Role.CLINIC_LEAD)
class ScreeningListPageTests {

	private static final String PAGE = "/setup/screening";

	/** Place of the first item of the clinic's own: 27 items are on every list. */
	private static final String OWN = "items[27].";

	@Autowired
	MockMvcTester pages;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	/* Items, levels and days: docs/clinical.md. */
	@Test
	void startsWithTheItemsThatEveryListHas() {
		assertThat(get(PAGE)).hasStatusOk()
			.bodyText()
			.contains("Items, version 1", "Keloid or hypertrophic scars, personal history",
					"Exclusion in a published trial", "Change the screening list", "came with the service")
			.doesNotContain("??");
		assertThat(this.database.sql("select item || ' ' || level || ' ' || valid_days from screening_list_item")
			.query(String.class)
			.list())
			.containsExactlyInAnyOrderElementsOf(Arrays.stream(ScreeningItem.values())
				.map((item) -> item.word() + " " + item.level().name().toLowerCase(Locale.ROOT) + " "
						+ item.validDays())
				.toList());
	}

	@ParameterizedTest
	@EnumSource(value = Role.class, names = { "PRACTITIONER", "ADMINISTRATOR" })
	void isReadByPractitionersAndAdministratorsButNotChanged(Role role) {
		assertThat(this.pages.get().uri(PAGE).with(this.staff.as(role))).hasStatusOk()
			.bodyText()
			.doesNotContain("Change the screening list");
		assertThat(this.pages.get().uri(PAGE + "/new").with(this.staff.as(role))).hasStatus(HttpStatus.FORBIDDEN);
		assertThat(this.pages.post().uri(PAGE + "/new").with(csrf()).with(this.staff.as(role)))
			.hasStatus(HttpStatus.FORBIDDEN);
	}

	@ParameterizedTest
	@EnumSource(value = Role.class, names = { "ASSISTANT", "FRONT_DESK" })
	void isNotForTheOthers(Role role) {
		assertThat(this.pages.get().uri(PAGE).with(this.staff.as(role))).hasStatus(HttpStatus.FORBIDDEN);
	}

	@Test
	void asksTheClinicsOwnItemFromItsPublicationOn() {
		assertThat(get(PAGE + "/new")).hasStatusOk().bodyText().contains("Publish version 2", "A new item");
		assertThat(publish(form())).hasRedirectedUrl(PAGE);
		assertThat(get(PAGE)).bodyText()
			.contains("Items, version 2", "Contact lenses &lt;worn&gt;", "The clinic&#39;s own item.",
					"lenses near the eye", "clinic_lead");
		assertThat(get(PAGE + "?version=1")).bodyText()
			.contains("Version 1 is not in force any more")
			.doesNotContain("Contact lenses");
		assertThat(get(PAGE + "?version=3")).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(this.database.sql("select detail from audit_entry where kind = 'screening_list'")
			.query(String.class)
			.list()).containsExactly("version 2");
		var patient = new TestTreatment(this.database).patient("L-1");
		assertThat(get("/patients/" + patient + "/before")).bodyText()
			.contains("Contact lenses &lt;worn&gt;", "answers[27].answer", "it counts for 30 days");
		answer(patient, "answers[27].", "clinic_1", "yes");
		assertThat(get("/patients/" + patient + "/before")).bodyText().contains("decision-clinic_1", "Acknowledged");
	}

	@Test
	void anAnswerKeepsTheWordsInWhichItWasAskedAndOtherWordsAreAskedAnew() {
		publish(form());
		var patient = new TestTreatment(this.database).patient("L-1");
		answer(patient, "answers[27].", "clinic_1", "no");
		var reworded = form();
		reworded.put("basedOn", "2");
		reworded.put(OWN + "question", "Lenses in the eye now");
		reworded.put(OWN + "level", "stop");
		assertThat(publish(reworded)).hasRedirectedUrl(PAGE);
		assertThat(get("/patients/" + patient + "/before")).bodyText()
			.contains("Lenses in the eye now", "asked in other words then: Contact lenses &lt;worn&gt;", "ask again");
		var answer = this.database.sql("select id::text from screening_answer").query(String.class).single();
		assertThat(get("/history/screening_answer/" + answer)).bodyText()
			.contains("What was asked", "Contact lenses &lt;worn&gt;")
			.doesNotContain("Lenses in the eye now");
		answer(patient, "answers[27].", "clinic_1", "no", "answers[27].version", "0");
		assertThat(get("/history/screening_answer/" + answer)).bodyText()
			.contains("Contact lenses &lt;worn&gt;", "Lenses in the eye now");
		assertThat(get("/patients/" + patient + "/report")).bodyText()
			.contains("Contact lenses &lt;worn&gt;", "Lenses in the eye now");
	}

	@Test
	void aCautionIsSwitchedOffWithAReasonAndStaysOnTheList() {
		var form = form();
		form.put("items[5].item", "lactation");
		form.put("items[5].question", "Breast-feeding");
		form.put("items[5].validDays", "28");
		form.put("items[5].switchedOff", "asked on the consent form");
		assertThat(publish(form)).hasRedirectedUrl(PAGE);
		assertThat(get(PAGE)).bodyText()
			.contains("Breast-feeding", "Not asked any more: asked on the consent form", "switched off");
		var patient = new TestTreatment(this.database).patient("L-1");
		assertThat(get("/patients/" + patient + "/before")).bodyText().doesNotContain("Breast-feeding");
		var refused = answer(patient, "answers[5].", "lactation", "no");
		assertThat(refused).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("This is not asked any more");
	}

	@Test
	void aStopItemOfEveryListIsNeitherSwitchedOffNorWordedOtherwise() {
		var form = form();
		form.put("items[4].item", "pregnancy");
		form.put("items[4].question", "Anything else");
		form.put("items[4].validDays", "1");
		form.put("items[4].level", "caution");
		form.put("items[4].switchedOff", "we know our patients");
		publish(form);
		assertThat(this.database.sql("""
				select question || ', ' || level || ', ' || coalesce(switched_off, 'in use')
				from screening_list_item where list = 2 and item = 'pregnancy'""").query(String.class).single())
			.isEqualTo("Pregnant or could be, stop, in use");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|',
			textBlock = """
					items[3].validDays  | 366             | Enter a whole number from 1 to 365.
					items[3].validDays  | 0               | Enter a whole number from 1 to 365.
					items[4].validDays  | 2               | An answer to this stop item counts for one day at most.
					items[4].validDays  |                 | Fill this in.
					items[5].question   |                 | Fill this in.
					items[5].question   | Contact lenses <WORN> | Another item asks the same. Word it otherwise, or switch one off.
					items[5].validDays  | four weeks      | Enter a whole number from 1 to 365.
					items[27].question  |                 | Fill this in.
					items[27].level     |                 | Fill this in.
					items[27].asked     |                 | Fill this in.
					items[27].validDays |                 | Fill this in.
					items[27].validDays | 1.5             | Enter a whole number from 1 to 365.
					reason              |                 | Fill this in.
					""")
	void saysBesideTheFieldWhatToMend(String field, String value, String message) {
		var form = form();
		form.putAll(Map.of("items[3].item", "keloid_tendency", "items[3].validDays", "365", "items[4].item",
				"pregnancy", "items[4].validDays", "1", "items[5].item", "lactation", "items[5].question",
				"Breast-feeding", "items[5].validDays", "28"));
		form.put(field, (value != null) ? value : "");
		var answer = publish(form);
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		var at = (message.startsWith("Another item")) ? "items[27].question" : field;
		if (at.startsWith("items[4]")) {
			// its days are fixed, so the page has no field for them and says it on top
			assertThat(answer).bodyText().contains(message);
		}
		else {
			assertThat(RefusedForm.messages(answer)).containsEntry(at.replaceAll("[\\[\\]]", ""), message);
		}
		assertThat(this.database.sql("select max(number) from screening_list").query(Integer.class).single()).isOne();
	}

	@Test
	void aNewItemCanStandInAnyOfTheEmptyRows() {
		var form = form();
		form.keySet().removeIf((field) -> field.startsWith(OWN));
		form.putAll(Map.of("items[29].item", "clinic_3", "items[29].question", "Ate today", "items[29].level", "stop",
				"items[29].asked", "every_session", "items[29].validDays", "1"));
		assertThat(publish(form)).hasRedirectedUrl(PAGE);
		assertThat(get(PAGE + "/new")).bodyText()
			.contains("items[27].question", "items[28].question", "items[29].question", "items[30].question")
			.doesNotContain("items[31].question");
	}

	@Test
	void publishesNothingThatIsInForceAlreadyAndSaysWhoWasFirst() {
		publish(form());
		var again = form();
		again.put("basedOn", "2");
		assertThat(publish(again)).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Nothing differs from the version in force");
		var stale = form();
		stale.put(OWN + "question", "Something else");
		assertThat(publish(stale)).hasStatus(HttpStatus.CONFLICT);
	}

	@ParameterizedTest
	@ValueSource(strings = { "update screening_list set reason = 'x'", "delete from screening_list",
			"update screening_list_item set question = 'x'", "delete from screening_list_item" })
	void aVersionIsNeverEdited(String statement) {
		assertThatThrownBy(() -> this.database.sql(statement).update()).rootCause()
			.hasMessageFindingMatch("never edited|permission denied");
	}

	private MvcTestResult answer(PatientId patient, String row, String item, String answer, String... more) {
		var request = this.pages.post()
			.uri("/patients/" + patient + "/before/answers")
			.with(csrf())
			.param(row + "item", item)
			.param(row + "answer", answer);
		for (int at = 0; at < more.length; at += 2) {
			request.param(more[at], more[at + 1]);
		}
		return request.exchange();
	}

	private MvcTestResult get(String address) {
		return this.pages.get().uri(address).exchange();
	}

	private MvcTestResult publish(Map<String, String> form) {
		var request = this.pages.post().uri(PAGE + "/new").with(csrf());
		form.forEach(request::param);
		return request.exchange();
	}

	/** One item of the clinic's own. */
	private static Map<String, String> form() {
		var form = new LinkedHashMap<String, String>();
		form.put("basedOn", "1");
		form.put(OWN + "item", "clinic_1");
		form.put(OWN + "question", " Contact lenses <worn> ");
		form.put(OWN + "level", "caution");
		form.put(OWN + "asked", "when_lapsed");
		form.put(OWN + "validDays", "30");
		form.put("reason", "lenses near the eye");
		return form;
	}

}
