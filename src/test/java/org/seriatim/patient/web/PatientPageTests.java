package org.seriatim.patient.web;

import java.time.LocalDate;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.Role;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.SkinThickness;
import org.seriatim.patient.domain.ContactDetails;
import org.seriatim.patient.domain.Identity;
import org.seriatim.patient.domain.KeepPatient;
import org.seriatim.patient.domain.PatientDetails;
import org.seriatim.support.PageTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestStaff;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MockMvcTester.MockMvcRequestBuilder;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;

@PageTest
@SignedInAs(Role.FRONT_DESK)
class PatientPageTests {

	private final MockMvcTester browser;

	private final KeepPatient keep;

	private final PatientDirectory directory;

	private final TestStaff staff;

	@Autowired
	PatientPageTests(MockMvcTester browser, KeepPatient keep, PatientDirectory directory, TestStaff staff) {
		this.browser = browser;
		this.keep = keep;
		this.directory = directory;
		this.staff = staff;
	}

	@Nested
	class Finding {

		@Test
		void tellsWhatToDoWhileNobodyWasOpened() {
			assertThat(get("/patients")).hasStatusOk().bodyText().contains("You have opened no record yet");
		}

		@Test
		void listsThePatientsOpenedLast() {
			register("K1", "Góralska", "Łucja");
			assertThat(get("/patients")).hasStatusOk()
				.bodyText()
				.contains("Opened last by you", "Góralska, Łucja", "K1");
		}

		@Test
		void listsWhoIsCalledSoWithALinkToTheRecord() {
			var patient = register("K1", "Góralska", "Łucja");
			register("K2", "Tamm", "Tove");
			assertThat(search("goralska")).hasStatusOk()
				.bodyText()
				.contains("Góralska, Łucja", "/patients/" + patient, "+00 555 0100", "value=\"goralska\"")
				.doesNotContain("Tamm, Tove", "Opened last by you");
		}

		@Test
		void opensARecordNumberAtOnce() {
			var patient = register("K1", "Góralska", "Łucja");
			assertThat(search("k1")).hasStatus3xxRedirection().hasRedirectedUrl("/patients/" + patient);
		}

		@Test
		void saysWhatToDoWhenNobodyIsCalledSo() {
			assertThat(search("Xylander")).hasStatusOk().bodyText().contains("Nobody is called so");
		}

		@Test
		void answersSomebodyWhoTypesWithTheListAloneAndOpensNothing() {
			register("K1", "Góralska", "Łucja");
			assertThat(search("k1", "HX-Request", "true")).hasStatusOk()
				.bodyText()
				.contains("Góralska, Łucja", "id=\"results\"")
				.doesNotContain("<html", "<main");
		}

		@Test
		void leadsFromTheAddressOfASearchBackToTheList() {
			assertThat(get("/patients/search")).hasRedirectedUrl("/patients");
		}

		@Test
		void refusesALongTextAndKeepsIt() {
			assertThat(search("x".repeat(101))).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
				.bodyText()
				.contains("Enter at most 100 characters.", "x".repeat(101));
		}

	}

	@Nested
	class Registering {

		@Test
		void registersAndLeadsToTheRecord() {
			var answer = send("/patients/new", "recordNumber", " K7 ", "familyName", "Håkonsen", "givenName", "Ines",
					"birthDate", "1997-12-23", "sex", "female", "phone", "+00 555 1189", "email", "p1@example.org");
			var patient = PatientPageTests.this.directory.byRecordNumber("K7").orElseThrow();
			assertThat(answer).hasRedirectedUrl("/patients/" + patient.id());
			assertThat(answer).flash().containsEntry("notice", "patient.form.registered");
			assertThat(patient.displayName()).isEqualTo("Håkonsen, Ines");
			assertThat(patient.birthDate()).isEqualTo(LocalDate.of(1997, 12, 23));
		}

		@ParameterizedTest
		@CsvSource(delimiter = '|',
				value = { "recordNumber | '' | Enter the record number.",
						"familyName | '' | Enter a family name or a given name.",
						"birthDate | 2026-11-21 | The date of birth lies in the future.",
						"birthDate | 1896-11-19 | The date of birth is more than 130 years ago.",
						"birthDate | 23.12.1997 | Enter a date as year-month-day",
						"phone | unknown | Enter a telephone number", "email | nobody | Enter an email address" })
		void saysAtTheFieldWhatToMendAndKeepsWhatWasTyped(String field, String typed, String message) {
			var answer = send("/patients/new", "recordNumber", field.equals("recordNumber") ? typed : "K7",
					"familyName", field.equals("familyName") ? typed : "Tamm", "birthDate",
					field.equals("birthDate") ? typed : "", "phone", field.equals("phone") ? typed : "", "email",
					field.equals("email") ? typed : "");
			assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
				.bodyText()
				.contains(message, "error-summary", "href=\"#" + field + "\"", "id=\"" + field + "-error\"");
			if (!typed.isEmpty()) {
				assertThat(answer).bodyText().contains("value=\"" + typed + "\"");
			}
			assertThat(PatientPageTests.this.directory.byRecordNumber("K7")).isEmpty();
		}

		@Test
		void saysAtItsFieldThatARecordNumberIsTaken() {
			register("K1", "Góralska", "Łucja");
			assertThat(send("/patients/new", "recordNumber", "K1", "familyName", "Tamm"))
				.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
				.bodyText()
				.contains("This record number is or was another patient’s.", "id=\"recordNumber-error\"");
		}

		@Test
		void showsWhoMayBeTheSamePersonBeforeItRegistersASecondOne() {
			register("K1", "Góralska", "Łucja");
			assertThat(send("/patients/new", "recordNumber", "K2", "familyName", "Goralska", "givenName", "Lucja"))
				.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
				.bodyText()
				.contains("Is it one of these?", "Góralska, Łucja", "value=\"Goralska\"");
			assertThat(PatientPageTests.this.directory.byRecordNumber("K2")).isEmpty();
			send("/patients/new", "recordNumber", "K2", "familyName", "Goralska", "givenName", "Lucja", "anotherPerson",
					"true");
			assertThat(PatientPageTests.this.directory.byRecordNumber("K2")).isPresent();
		}

		@Test
		void asksOnlyThoseOfTheSkinWhoMayJudgeIt() {
			assertThat(get("/patients/new")).bodyText().doesNotContain("Skin profile");
			send("/patients/new", "recordNumber", "K7", "familyName", "Tamm", "skinThickness", "thick");
			assertThat(PatientPageTests.this.directory.byRecordNumber("K7").orElseThrow().skinThickness()).isNull();
		}

		@Test
		@SignedInAs(Role.PRACTITIONER)
		void takesTheSkinProfileOfAPractitioner() {
			assertThat(get("/patients/new")).bodyText().contains("Skin profile", "III · burns sometimes");
			send("/patients/new", "recordNumber", "K7", "familyName", "Tamm", "skinThickness", "thick", "phototype",
					"3", "sebum", "oily");
			var patient = PatientPageTests.this.directory.byRecordNumber("K7").orElseThrow();
			assertThat(patient.skinThickness()).isEqualTo(SkinThickness.THICK);
			assertThat(patient.phototype()).isEqualTo(3);
		}

	}

	@Nested
	class Correcting {

		@Test
		void showsWhatIsKnownAndSavesANewVersion() {
			var patient = register("K1", "Góralska", "Łucja");
			assertThat(get("/patients/" + patient + "/edit")).hasStatusOk()
				.bodyText()
				.contains("value=\"G&oacute;ralska\"", "id=\"version\" name=\"version\" value=\"0\"",
						"Why is it corrected?");
			var answer = correct(patient, "0", "phone", "+00 555 2711", "reason", "a new telephone");
			assertThat(answer).hasRedirectedUrl("/patients/" + patient);
			assertThat(PatientPageTests.this.directory.requireExisting(patient).phone()).isEqualTo("+00 555 2711");
		}

		@Test
		void asksWhy() {
			var patient = register("K1", "Góralska", "Łucja");
			assertThat(correct(patient, "0", "phone", "+00 555 2711")).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
				.bodyText()
				.contains("Say why it is corrected.", "value=\"+00 555 2711\"");
		}

		@Test
		void givesBackWhatWasTypedWhenSomebodyElseWasFaster() {
			var patient = register("K1", "Góralska", "Łucja");
			correct(patient, "0", "phone", "+00 555 2711", "reason", "a new telephone");
			assertThat(correct(patient, "0", "phone", "+00 555 9999", "reason", "another one"))
				.hasStatus(HttpStatus.CONFLICT)
				.bodyText()
				.contains("Somebody changed this while you were writing", "+00 555 9999");
			assertThat(PatientPageTests.this.directory.requireExisting(patient).phone()).isEqualTo("+00 555 2711");
		}

		@Test
		void answersAnUnknownPatientWithNotFound() {
			assertThat(get("/patients/" + UUID.randomUUID() + "/edit")).hasStatus(HttpStatus.NOT_FOUND);
			assertThat(get("/patients/nonsense/edit")).hasStatus(HttpStatus.BAD_REQUEST);
		}

	}

	@ParameterizedTest
	@CsvSource({ "/patients", "/patients/new", "/patients/019b0000-0000-7000-8000-000000000000/edit" })
	void isClosedToAdministratorsAndStrangers(String address) {
		assertThat(this.browser.get().uri(address).with(this.staff.as(Role.ADMINISTRATOR)))
			.hasStatus(HttpStatus.FORBIDDEN);
		assertThat(this.browser.get().uri(address).with(SecurityMockMvcRequestPostProcessors.anonymous()))
			.hasStatus3xxRedirection()
			.redirectedUrl()
			.endsWith("/sign-in");
	}

	private PatientId register(String number, String family, String given) {
		return this.keep.register(new PatientDetails(new Identity(number, family, given, null, null),
				new ContactDetails("+00 555 0100", null), null));
	}

	private MvcTestResult correct(PatientId patient, String version, String... fields) {
		return exchange(with(this.browser.post()
			.uri("/patients/" + patient + "/edit")
			.param("recordNumber", "K1")
			.param("familyName", "Góralska")
			.param("givenName", "Łucja")
			.param("version", version), fields));
	}

	private MvcTestResult search(String who, String... header) {
		var request = this.browser.post().uri("/patients/search").param("who", who);
		return exchange((header.length > 0) ? request.header(header[0], header[1]) : request);
	}

	private MvcTestResult get(String address) {
		return this.browser.get().uri(address).exchange();
	}

	private MvcTestResult send(String address, String... fields) {
		return exchange(with(this.browser.post().uri(address), fields));
	}

	private static MockMvcRequestBuilder with(MockMvcRequestBuilder request, @Nullable String... fields) {
		var filled = request;
		for (int at = 0; at < fields.length; at += 2) {
			filled = filled.param(fields[at], fields[at + 1]);
		}
		return filled;
	}

	private static MvcTestResult exchange(MockMvcRequestBuilder request) {
		return request.with(SecurityMockMvcRequestPostProcessors.csrf()).exchange();
	}

}
