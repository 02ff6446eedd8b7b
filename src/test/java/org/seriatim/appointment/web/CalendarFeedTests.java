package org.seriatim.appointment.web;

import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.regex.Pattern;

import net.fortuna.ical4j.data.CalendarBuilder;
import net.fortuna.ical4j.model.Component;
import net.fortuna.ical4j.model.component.CalendarComponent;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.core.userdetails.UserDetails;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import org.seriatim.access.Role;
import org.seriatim.followup.ARecord;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/** The files are read by ical4j, which the service does not use. */
@PageTest
class CalendarFeedTests {

	private static final Pattern MADE = Pattern
		.compile("id=\"made-address\">http://localhost(/calendar/[\\w-]{43}\\.ics)<");

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@Autowired
	private JdbcClient database;

	private UserDetails vale;

	private ARecord record;

	@BeforeEach
	void bookOnBothSidesOfAChangeOfTheClocks() {
		this.vale = this.staff.named("r.vale", Role.PRACTITIONER);
		this.record = ARecord.of(this.database, "T,1;x", "Lindqvist", "Orsolya");
		// ten o'clock in Central Europe before and after the clocks go forward
		book("2027-03-27T09:00Z", "2027-03-27T09:45Z", "treatment", "booked");
		book("2027-03-29T08:00Z", "2027-03-29T08:45Z", "treatment", "booked");
		book("2027-03-30T08:00Z", "2027-03-30T08:45Z", "review", "cancelled");
	}

	private void book(String from, String until, String purpose, String status) {
		this.database.sql("""
				insert into appointment (patient_id, practitioner_id, starts_at, ends_at, starts_offset_minutes,
					ends_offset_minutes, purpose, status, recorded_at)
				select :patient, id, cast(:from as timestamptz), cast(:until as timestamptz), 0, 0, :purpose, :status,
					'2026-11-19T09:00Z' from staff where name = 'r.vale'""")
			.param("patient", this.record.patient().value())
			.param("from", from)
			.param("until", until)
			.param("purpose", purpose)
			.param("status", status)
			.update();
	}

	private MvcTestResult post(String address, UserDetails who) {
		return this.pages.post().uri(address).with(csrf()).with(this.staff.as(who)).exchange();
	}

	private String make() {
		var result = post("/account/calendar", this.vale);
		assertThat(result).hasStatusOk();
		var made = MADE.matcher(body(result));
		assertThat(made.find()).isTrue();
		return made.group(1);
	}

	private static String body(MvcTestResult result) {
		return new String(result.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
	}

	private MvcTestResult read(String address) {
		return this.pages.get().uri(address).exchange();
	}

	private static List<CalendarComponent> events(MvcTestResult result) throws Exception {
		var calendar = new CalendarBuilder().build(new StringReader(body(result)));
		assertThat(calendar.validate().hasErrors()).as("%s", calendar.validate()).isFalse();
		return calendar.getComponents(Component.VEVENT);
	}

	private static String value(CalendarComponent event, String property) {
		return event.getProperty(property).orElseThrow().getValue();
	}

	@Test
	void showsAPractitionersAppointmentsByRecordNumberAlone() throws Exception {
		var feed = read(make());
		assertThat(feed).hasStatusOk();
		assertThat(feed.getResponse().getContentType()).isEqualTo("text/calendar;charset=UTF-8");
		assertThat(events(feed)).extracting((event) -> value(event, "SUMMARY"))
			.containsExactly("Appointment T,1;x", "Appointment T,1;x");
		assertThat(events(feed)).extracting((event) -> value(event, "DTSTART"))
			.containsExactly("20270327T090000Z", "20270329T080000Z");
		assertThat(events(feed)).extracting((event) -> value(event, "DTEND"))
			.containsExactly("20270327T094500Z", "20270329T084500Z");
		assertThat(body(feed)).doesNotContain("Lindqvist", "Orsolya", "reatment", "eview")
			.contains("SUMMARY:Appointment T\\,1\\;x\r\n");
	}

	@Test
	void answersAnUnchangedCalendarByItsTagAlone() {
		var address = make();
		var tag = read(address).getResponse().getHeader(HttpHeaders.ETAG);
		var again = this.pages.get().uri(address).header(HttpHeaders.IF_NONE_MATCH, String.valueOf(tag)).exchange();
		assertThat(again).hasStatus(HttpStatus.NOT_MODIFIED);
		assertThat(body(again)).isEmpty();
		book("2027-04-06T08:00Z", "2027-04-06T08:45Z", "review", "booked");
		assertThat(this.pages.get().uri(address).header(HttpHeaders.IF_NONE_MATCH, String.valueOf(tag)).exchange())
			.hasStatusOk();
	}

	@Test
	void keepsOnlyAHashAndShowsTheAddressOnce() {
		var address = make();
		assertThat(body(this.pages.get().uri("/account/calendar").with(this.staff.as(this.vale)).exchange()))
			.contains("There is an address")
			.doesNotContain("/calendar/" + address.substring("/calendar/".length(), "/calendar/".length() + 8));
		var token = address.replaceAll("^/calendar/|\\.ics$", "");
		assertThat(this.database.sql("select token_hash = sha256(convert_to(:token, 'UTF8')) from calendar_feed")
			.param("token", token)
			.query(Boolean.class)
			.single()).isTrue();
	}

	@Test
	void isReadByNobodyElse() {
		var address = make();
		assertThat(read("/calendar/" + "A".repeat(43) + ".ics")).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(read(address.replace(".ics", "x.ics"))).hasStatus(HttpStatus.NOT_FOUND);
		var other = make();
		assertThat(read(address)).as("another was made").hasStatus(HttpStatus.NOT_FOUND);
		assertThat(post("/account/calendar/revoke", this.vale)).hasRedirectedUrl("/account/calendar");
		assertThat(read(other)).as("revoked").hasStatus(HttpStatus.NOT_FOUND);
		var last = make();
		this.database.sql("""
				update account set active = false where staff_id = (select id from staff where name = 'r.vale')""")
			.update();
		assertThat(read(last)).as("the account is closed").hasStatus(HttpStatus.NOT_FOUND);
		assertThat(post("/account/calendar", this.staff.member(Role.FRONT_DESK))).hasStatus(HttpStatus.FORBIDDEN);
	}

	@Test
	void givesThePatientOneAppointmentFromTheTimeToCome() throws Exception {
		var appointment = this.database.sql("select id from appointment where starts_at = '2027-03-29T08:00Z'")
			.query(java.util.UUID.class)
			.single();
		var file = this.pages.get()
			.uri("/appointments/" + appointment + "/calendar.ics")
			.with(this.staff.as(Role.FRONT_DESK))
			.exchange();
		assertThat(file).hasStatusOk();
		assertThat(file.getResponse().getHeader(HttpHeaders.CONTENT_DISPOSITION)).contains("appointment.ics");
		assertThat(events(file)).singleElement().satisfies((event) -> {
			assertThat(value(event, "DTSTART")).isEqualTo("20270329T071500Z");
			assertThat(value(event, "DTEND")).isEqualTo("20270329T084500Z");
			assertThat(value(event, "SUMMARY")).isEqualTo("Appointment");
			assertThat(event.getProperty("LOCATION")).isEmpty();
		});
		assertThat(body(file)).doesNotContain("Lindqvist", "T\\,1", "reatment");
	}

}
