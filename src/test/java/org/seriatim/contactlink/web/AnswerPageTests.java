package org.seriatim.contactlink.web;

import java.io.IOException;
import java.time.Duration;
import java.util.Map;
import java.util.UUID;

import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.contactlink.TestLinks;
import org.seriatim.contactlink.domain.ContactLinks;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.patient.PatientId;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.io.ClassPathResource;
import org.springframework.http.HttpMethod;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

/**
 * A patient at home, without a sign-in, on 20 November, after the session of 2 November
 * 2026.
 */
@PageTest
class AnswerPageTests {

	private static final String EMERGENCY = "Go to the hospital at once.";

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	ContactLinks links;

	@Autowired
	CurrentAdvice advice;

	@Autowired
	TestStaff staff;

	@Autowired
	TestClock clock;

	private TestTreatment treatment;

	private PatientId patient;

	private SeriesId series;

	private SessionId session;

	private String address;

	@BeforeEach
	void makeALink() {
		TestLinks.setUp(this.database);
		this.treatment = new TestTreatment(this.database);
		this.patient = this.treatment.patient("K1-SECRET");
		this.database.sql("""
				update patient set family_name = 'Quill', given_name = 'Ada', email = 'ada@example.org',
					version = version + 1""").update();
		this.series = this.treatment.series(this.patient);
		this.session = this.treatment.session(this.series, 1, "2026-11-02");
		this.address = newLink();
	}

	@Test
	void asksFiveThingsAndShowsNothingOfTheRecord() {
		lump(Region.CHIN);
		var answer = get(this.address);
		assertThat(answer).hasStatusOk();
		var page = page(answer);
		assertThat(page.text()).contains(EMERGENCY, "+00 555 0100", "on working days from 8 to 16")
			.doesNotContain("Quill", "Ada", "K1", "2026", "Nov", "example.org");
		assertThat(page.select("main > *").first().text()).as("where to turn comes first").contains(EMERGENCY);
		assertThat(page.select("form > fieldset, form > .field, form > .mirror > fieldset")).hasSize(5);
		assertThat(page.select("form fieldset").first().select("input[name=signs]")).hasSize(13);
		assertThat(page.select("input[name=where]")).hasSize(18);
		assertThat(page.select("script")).as("works without scripts").isEmpty();
	}

	/* As in a mirror: what is left on the picture is the patient's left. */
	@Test
	void takesAPlaceThatIsTouchedOnTheFace() throws IOException {
		var page = page(get(this.address));
		var sheet = new ClassPathResource("static/css/components/mirror.css").getContentAsString(UTF_8);
		for (var region : Region.values()) {
			var spot = page.select("svg label[data-region=" + region.word() + "]");
			assertThat(page.getElementById(spot.attr("for")).val()).isEqualTo(region.word());
			assertThat(sheet)
				.contains(".mirror:has([value=\"%1$s\"]:checked) [data-region=\"%1$s\"]".formatted(region.word()));
			var middle = Double.parseDouble(spot.parents().attr("x")) + 24;
			if (region.word().endsWith("_left")) {
				assertThat(middle).isLessThan(190);
			}
			else if (region.word().endsWith("_right")) {
				assertThat(middle).isGreaterThan(210);
			}
			else {
				assertThat(middle).isBetween(190.0, 210.0);
			}
		}
	}

	@Test
	void leavesNoTraceInTheBrowserOrElsewhere() {
		var response = get(this.address).getResponse();
		assertThat(response.getHeader("Referrer-Policy")).isEqualTo("no-referrer");
		assertThat(response.getHeader("X-Robots-Tag")).contains("noindex");
		assertThat(response.getHeader("Cache-Control")).contains("no-store");
		assertThat(response.getCookies()).isEmpty();
		assertThat(response.getHeader("Set-Cookie")).isNull();
	}

	/* Programs that check mail open every link, and so do previews. */
	@Test
	void isNotUsedUpByBeingOpened() {
		var before = everything();
		for (var i = 0; i < 20; i++) {
			assertThat(get(this.address)).hasStatusOk();
			assertThat(this.browser.perform(this.browser.method(HttpMethod.HEAD).uri(this.address))).hasStatusOk();
			assertThat(get(this.address + "/no-mail")).hasStatusOk();
		}
		assertThat(everything()).isEqualTo(before);
		assertThat(send(form(), "lumpNow", "absent")).hasStatusOk();
	}

	@Test
	void becomesAContactAndChangesTheAdvice() {
		var lump = lump(Region.CHIN);
		assertThat(status()).isNotEqualTo("WINDOW");
		assertThat(send(form(), "lumpNow", "absent", "painNrs", "2", "said", "a little dry")).hasStatusOk()
			.bodyText()
			.contains("Thank you", EMERGENCY)
			.doesNotContain("What you ticked");
		assertThat(contact()).containsEntry("channel", "link")
			.containsEntry("outcome", "reached")
			.containsEntry("lumps_present", false)
			.containsEntry("pain_nrs", 2)
			.containsEntry("note", "a little dry")
			.containsEntry("recorded_by", null);
		assertThat(observed(lump)).containsEntry("present", false)
			.containsEntry("reporter", "patient")
			.containsEntry("channel", "link");
		assertThat(status()).isEqualTo("WINDOW");
		assertThat(count("audit_entry where kind = 'link_answer' and staff_id is null")).isOne();
		assertThat(count("audit_entry where kind = 'contact' and staff_id is null")).isOne();
	}

	@Test
	void takesWhereThePatientPointsForTheOneLumpThatIsThere() {
		var chin = lump(Region.CHIN);
		var nose = lump(Region.NOSE);
		send(form(), "lumpNow", "present", "where", "chin");
		assertThat(observed(chin)).containsEntry("present", true);
		assertThat(count("finding_observation where finding_id = '" + nose + "'")).as("said nothing of it").isZero();
		assertThat(contact()).containsEntry("lumps_present", true).containsEntry("note", "Points at: Chin.");
		assertThat(status()).isEqualTo("WAIT_FOR_CONTACT");
	}

	@Test
	void raisesARedFlagThatAPractitionerSeesAtOnce() {
		var answer = send(form(), "signs", "vision", "signs", "mottling");
		assertThat(answer).hasStatusOk();
		assertThat(page(answer).select("[role=alert]").text()).contains("Get help now", EMERGENCY, "+00 555 0100");
		assertThat(this.browser.get().uri("/patients/" + this.patient).with(this.staff.as(Role.PRACTITIONER)))
			.hasStatusOk()
			.bodyText()
			.contains("Possible emergency");
		assertThat(this.browser.get().uri("/patients/" + this.patient).with(this.staff.as(Role.FRONT_DESK))).bodyText()
			.contains("Possible emergency")
			.doesNotContain("Any change of vision");
		assertThat(this.database.sql("select kind from finding order by kind").query(String.class).list())
			.containsExactly("vascular_compromise", "visual_symptom");
		assertThat(count("finding_observation where reporter = 'patient' and channel = 'link' and present"))
			.isEqualTo(2);
		assertThat(status()).isEqualTo("HOLD");
	}

	@Test
	void raisesItWhateverElseIsWrongWithTheForm() {
		var answer = send(form(), "signs", "stroke", "painNrs", "11", "said", "kept words");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(answer).bodyText().contains("Get help now", "kept words", "Enter a whole number from 0 to 10.");
		assertThat(count("finding")).isOne();
		assertThat(count("contact")).isZero();
	}

	@ParameterizedTest
	@CsvSource({ "lumpNow,perhaps", "painNrs,x", "painNrs,2.5", "where,elsewhere", "signs,nothing" })
	void refusesWhatThePageDoesNotOffer(String field, String value) {
		assertThat(send(form(), field, value)).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains(EMERGENCY);
		assertThat(count("link_answer")).isZero();
	}

	@Test
	void asksForAtLeastOneAnswer() {
		assertThat(send(form())).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Answer at least one question.");
		assertThat(send(form(), "said", "x".repeat(501))).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(count("link_answer")).isZero();
	}

	@Test
	void storesTheSameAnswerSentTwiceOnce() {
		var form = form();
		assertThat(send(form, "signs", "fever", "lumpNow", "absent")).hasStatusOk();
		this.database.sql("""
				update finding set closed_on = '2026-11-20', closed_by = (select id from staff limit 1),
					closing_reason = 'seen, none', version = version + 1""").update();
		assertThat(send(form, "signs", "fever", "lumpNow", "absent")).hasStatusOk().bodyText().contains("Thank you");
		assertThat(count("link_answer")).isOne();
		assertThat(count("contact")).isOne();
		assertThat(count("finding")).as("a closed one is not raised again by the same answer").isOne();
	}

	@Test
	void takesAFurtherReportOfTheSameDayAsANewVersion() {
		var lump = lump(Region.CHIN);
		send(form(), "lumpNow", "absent", "painNrs", "1", "said", "in the morning");
		send(form(), "lumpNow", "present", "where", "chin", "said", "at night");
		assertThat(contact()).containsEntry("lumps_present", true)
			.containsEntry("pain_nrs", 1)
			.containsEntry("note", "in the morning\nPoints at: Chin.\nat night")
			.containsEntry("version", 1L);
		assertThat(observed(lump)).as("present and absent on one day is present").containsEntry("present", true);
		send(form(), "lumpNow", "absent");
		assertThat(contact()).containsEntry("lumps_present", true);
		assertThat(count("link_answer")).isEqualTo(3);
		assertThat(status()).isEqualTo("WAIT_FOR_CONTACT");
	}

	@Test
	void takesAFurtherReportOfAnotherDayAsAnotherContact() {
		send(form(), "lumpNow", "present");
		this.clock.advance(Duration.ofDays(3));
		send(form(), "lumpNow", "absent");
		assertThat(count("contact")).isEqualTo(2);
	}

	@Test
	void endsWithItsTimeWithANewerOneAndWithTheNextSession() {
		var form = form();
		var newer = newLink();
		assertOver(this.address, form);
		assertThat(get(newer)).hasStatusOk();
		this.links.revoke(this.patient);
		assertOver(newer, form);
		var last = newLink();
		this.clock.advance(Duration.ofDays(41));
		assertThat(get(last)).hasStatusOk();
		this.clock.advance(Duration.ofDays(1));
		assertOver(last, form);
		var treated = newLink();
		this.treatment.session(this.series, 2, "2026-12-30");
		this.clock.advance(Duration.ofDays(1));
		assertOver(treated, form);
		assertThat(count("link_answer")).isZero();
	}

	@Test
	void saysTheSameForALinkThatNeverWas() {
		var altered = this.address.substring(0, this.address.length() - 1) + (this.address.endsWith("A") ? "B" : "A");
		for (var unknown : new String[] { altered, "/answer/x", "/answer/" + "A".repeat(43), this.address + "0" }) {
			assertThat(get(unknown)).hasStatus(HttpStatus.NOT_FOUND).bodyText().contains(EMERGENCY, "+00 555 0100");
			assertThat(this.browser.post().uri(unknown).param("lumpNow", "absent")).hasStatus(HttpStatus.NOT_FOUND)
				.bodyText()
				.contains(EMERGENCY);
		}
		this.links.revoke(this.patient);
		assertThat(page(get(this.address)).body().html()).isEqualTo(page(get(altered)).body().html());
	}

	@Test
	void letsNobodyFloodAPatientsRecord() {
		for (var i = 0; i < 30; i++) {
			assertThat(send(form(), "painNrs", "1")).hasStatusOk();
		}
		assertThat(send(form(), "signs", "vision")).hasStatus(HttpStatus.TOO_MANY_REQUESTS)
			.bodyText()
			.contains(EMERGENCY);
		assertThat(count("link_answer")).isEqualTo(30);
		assertThat(count("finding")).as("an alarm is never one too many").isOne();
	}

	@Test
	void takesAPatientOffTheMail() {
		assertThat(count("outbox_message where state = 'waiting'")).isOne();
		assertThat(this.browser.post().uri(this.address + "/no-mail")).hasStatusOk()
			.bodyText()
			.contains("no more e-mail", EMERGENCY);
		assertThat(count("outbox_message where state = 'withdrawn'")).isOne();
		newLink();
		assertThat(count("outbox_message")).isOne();
		assertThat(this.database.sql("select * from mail_choice").query().singleRow()).containsEntry("opted_out", true)
			.containsEntry("chosen_by", "patient");
	}

	@Test
	void keepsItsSecretOutOfTheDatabase() {
		send(form(), "lumpNow", "absent");
		var secret = this.address.substring("/answer/".length());
		for (var table : new String[] { "contact_link", "outbox_message", "audit_entry", "link_answer",
				"spring_session_attributes", "guess" }) {
			assertThat(count(table + " t where t::text like '%" + secret + "%'")).as(table).isZero();
		}
	}

	private void assertOver(String link, String form) {
		assertThat(get(link)).hasStatus(HttpStatus.GONE)
			.bodyText()
			.contains(EMERGENCY, "+00 555 0100")
			.doesNotContain("<form");
		assertThat(this.browser.post().uri(link).param("form", form).param("signs", "vision"))
			.hasStatus(HttpStatus.GONE)
			.bodyText()
			.contains(EMERGENCY);
	}

	private String newLink() {
		return this.links.addressOf(this.links.make(this.patient).id()).replace(TestLinks.BASE, "");
	}

	private String form() {
		return UUID.randomUUID().toString();
	}

	private UUID lump(Region region) {
		return this.database.sql("""
				insert into finding (code, patient_id, session_id, kind, region, first_noted_on)
				select 'F' || (select count(*) from finding), ?, ?, 'lump', ?, '2026-11-04'
				returning id""")
			.params(this.patient.value(), this.session.value(), region.word())
			.query(UUID.class)
			.single();
	}

	private Map<String, Object> observed(UUID lump) {
		return this.database.sql("select * from finding_observation where finding_id = ?")
			.param(lump)
			.query()
			.singleRow();
	}

	private Map<String, Object> contact() {
		return this.database.sql("select * from contact").query().singleRow();
	}

	private String everything() {
		return this.database.sql("""
				select (select count(*) from audit_entry) || ' ' || (select count(*) from contact) || ' '
					|| (select count(*) from link_answer) || ' ' || (select count(*) from mail_choice) || ' '
					|| (select count(*) from spring_session) || ' ' || (select count(*) from guess) || ' '
					|| (select string_agg(l::text, '') from contact_link l)
					|| (select string_agg(o::text, '') from outbox_message o)""").query(String.class).single();
	}

	private String status() {
		return this.advice.of(this.series).map((standing) -> standing.advice().status().name()).orElse("none");
	}

	private int count(String rows) {
		return this.database.sql("select count(*) from " + rows).query(Integer.class).single();
	}

	private MvcTestResult get(String uri) {
		return this.browser.get().uri(uri).exchange();
	}

	private static Document page(MvcTestResult answer) {
		return Jsoup.parse(answer.getResponse().getContentAsByteArray().length == 0 ? "" : text(answer));
	}

	private static String text(MvcTestResult answer) {
		return new String(answer.getResponse().getContentAsByteArray(), java.nio.charset.StandardCharsets.UTF_8);
	}

	private MvcTestResult send(String form, String... fields) {
		var request = this.browser.post().uri(this.address).param("form", form);
		for (int i = 0; i < fields.length; i += 2) {
			request.param(fields[i], fields[i + 1]);
		}
		return request.exchange();
	}

}
