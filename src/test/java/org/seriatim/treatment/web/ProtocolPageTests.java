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
import org.seriatim.treatment.Protocols;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

@PageTest
@SignedInAs(Role.CLINIC_LEAD)
class ProtocolPageTests {

	@Autowired
	MockMvcTester pages;

	@Autowired
	Protocols protocols;

	@Autowired
	TestStaff staff;

	@Test
	void explainsEveryNumberAndThatAShiftOf0IsNotSet() {
		assertThat(get("/setup/protocol")).hasStatusOk()
			.bodyText()
			.contains("Version 1", "Base interval", "Six weeks: common practice, no source.", "Clearing probability",
					"0.9", "1, 3, 7, 15", "The skin shift is 0 for every thickness class. That means not set",
					"came with the service")
			.doesNotContain("??", "under 28 days");
	}

	@ParameterizedTest
	@EnumSource(value = Role.class, names = { "PRACTITIONER", "ADMINISTRATOR" })
	void isReadByPractitionersAndAdministratorsButNotPublished(Role role) {
		assertThat(this.pages.get().uri("/setup/protocol").with(this.staff.as(role))).hasStatusOk()
			.bodyText()
			.doesNotContain("Publish a new version");
		assertThat(this.pages.get().uri("/setup/protocol/new").with(this.staff.as(role)))
			.hasStatus(HttpStatus.FORBIDDEN);
		var request = this.pages.post().uri("/setup/protocol/new").with(csrf()).with(this.staff.as(role));
		form().forEach(request::param);
		assertThat(request).hasStatus(HttpStatus.FORBIDDEN);
		assertThat(this.protocols.current().number()).isEqualTo(1);
	}

	@Test
	void publishesTheNextVersionAndComparesItWithTheOneBefore() {
		assertThat(get("/setup/protocol")).bodyText().contains("Publish a new version");
		assertThat(get("/setup/protocol/new")).hasStatusOk()
			.bodyText()
			.contains("Publish version 2", "name=\"baseDays\" value=\"42\"", "value=\"1, 3, 7, 15\"");
		assertThat(publish(form())).hasRedirectedUrl("/setup/protocol");
		assertThat(this.protocols.current().baseDays()).isEqualTo(27);
		assertThat(get("/setup/protocol")).bodyText()
			.contains("Version 2, published 20 Nov 2026", "we come sooner", "clinic_lead",
					"The base interval is under 28 days.", "Vleggaar");
		assertThat(get("/setup/protocol?version=2&with=1")).bodyText()
			.containsPattern("(?s)Base interval.*?>27<.*?>42<.*?differs")
			.containsPattern("(?s)>Window<.*?>14<.*?>14<.*?same");
		assertThat(get("/setup/protocol?version=1")).bodyText().contains("(not in force any more)");
		assertThat(get("/setup/protocol?version=3")).hasStatus(HttpStatus.NOT_FOUND);
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', textBlock = """
			baseDays                 | 0           | Enter a whole number from 1 to 365 days.
			baseDays                 | six weeks   | Enter a whole number from 1 to 365 days.
			windowDays               | -1          | Enter a whole number from 0 to 365 days.
			extendedDays             | 366         | Enter a whole number from 1 to 365 days.
			persistenceThresholdDays |             | Fill this in.
			settlingMarginDays       | 1.5         | Enter a whole number from 0 to 365 days.
			clearingProbability      | 1           | Enter a number from 0.001 to 0.999 with at most 3 decimals.
			curveLumps               | 0           | Enter a whole number from 1 to 100000.
			repeatabilityPairs       | 1           | Enter a whole number from 2 to 100000.
			repeatabilityPatients    | 1           | Enter a whole number from 2 to 100000.
			plateauSessions          | 1           | Enter a whole number from 2 to 99.
			plateauScars             | 0           | Enter a whole number from 1 to 1000.
			skinShiftThin            | -61         | Enter a whole number from -60 to 60 days.
			skinShiftThin            | -27         | A shift must leave at least a day of the base interval.
			contactDays              | daily       | Enter days separated by commas, for example 1, 3, 7, 15.
			contactDays              | 1, 3, 3     | Each day must be later than the one before, the last at most 365.
			contactDays              | 1, 400      | Each day must be later than the one before, the last at most 365.
			contactDays              | 0, 1        | Each day must be later than the one before, the last at most 365.
			contactEveryDays         | 91          | Enter a whole number from 1 to 90 days.
			note                     |             | Fill this in.
			""")
	void saysBesideTheFieldWhatToMend(String field, String value, String message) {
		var form = form();
		form.put(field, (value != null) ? value : "");
		var answer = publish(form);
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer)).containsOnly(Map.entry(field, message));
		assertThat(this.protocols.current().number()).isEqualTo(1);
	}

	@Test
	void putsNothingOfTheFormIntoTheAddressThatItLeadsTo() {
		var form = form();
		form.put("_shown", "baseDays:4e074085;windowDays:50282632");
		assertThat(publish(form)).hasRedirectedUrl("/setup/protocol");
	}

	@Test
	void publishesNothingThatIsInForceAlready() {
		var form = form();
		form.put("baseDays", "42");
		assertThat(publish(form)).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Nothing differs from the version in force");
	}

	@Test
	void answersWithAConflictWhenSomebodyElsePublished() {
		publish(form());
		assertThat(publish(form())).hasStatus(HttpStatus.CONFLICT);
	}

	private MvcTestResult get(String address) {
		return this.pages.get().uri(address).exchange();
	}

	private MvcTestResult publish(Map<String, String> form) {
		var request = this.pages.post().uri("/setup/protocol/new").with(csrf());
		form.forEach(request::param);
		return request.exchange();
	}

	/** The values that a clinic starts with, but for the base interval. */
	private static Map<String, String> form() {
		var form = new LinkedHashMap<String, String>();
		form.put("basedOn", "1");
		form.put("baseDays", "27");
		form.put("windowDays", "14");
		form.put("extendedDays", "56");
		form.put("persistenceThresholdDays", "14");
		form.put("settlingMarginDays", "14");
		form.put("clearingProbability", "0.9");
		form.put("curveLumps", "30");
		form.put("repeatabilityPairs", "10");
		form.put("repeatabilityPatients", "5");
		form.put("plateauSessions", "3");
		form.put("plateauScars", "3");
		form.put("skinShiftThin", "0");
		form.put("skinShiftMedium", "0");
		form.put("skinShiftThick", "0");
		form.put("contactDays", "1, 3, 7, 15");
		form.put("contactEveryDays", "7");
		form.put("note", "we come sooner");
		return form;
	}

}
