package org.seriatim.access.web;

import java.time.Duration;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.seriatim.access.AccountRegister;
import org.seriatim.access.PatientIndex;
import org.seriatim.access.Role;
import org.seriatim.support.CodeApp;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

@PageTest
class EmergencyPageTests {

	private static final String PASSWORD = "small steps on a long way";

	private static final String REASON = "swollen face, nobody else in the house";

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private AccountRegister accounts;

	@Autowired
	private TestStaff staff;

	@Autowired
	private PatientIndex index;

	@Autowired
	private JdbcClient database;

	@Autowired
	private TestClock clock;

	private UUID patient = new UUID(0, 0);

	private UUID series = new UUID(0, 0);

	private UUID otherSeries = new UUID(0, 0);

	@BeforeEach
	void openAccountsAndRecords() {
		this.accounts.open("f.moor", Set.of(Role.FRONT_DESK), PASSWORD);
		this.patient = registered("K-1");
		this.series = seriesOf(this.patient);
		this.otherSeries = seriesOf(registered("K-2"));
	}

	@Test
	void opensOneRecordToReadForAnHourAndKeepsWhatWasOpened() {
		var desk = visitor().signIn("f.moor", PASSWORD).follow();
		assertThat(desk.open("/series/" + this.series).status()).isEqualTo(403);
		begin(desk);
		assertThat(desk.leadsTo()).isEqualTo("/patients/" + this.patient);
		assertThat(desk.follow().text()).contains("Emergency access to record K-1 until 10:00");
		assertThat(desk.text()).contains("Open findings");

		assertThat(desk.open("/series/" + this.series).status()).isEqualTo(200);
		assertThat(desk.open("/history/patient/" + this.patient).status()).isEqualTo(200);
		assertThat(desk.open("/series/" + this.otherSeries).status()).as("another's record").isEqualTo(403);
		assertThat(desk.open("/history/series/" + this.otherSeries).status()).as("another's history").isEqualTo(403);
		assertThat(desk.open("/outcomes/lumps").status()).as("what is no record").isEqualTo(403);
		assertThat(desk.open("/series/" + this.series + "/edit").status()).as("a form").isEqualTo(403);
		assertThat(
				this.database.sql("select address from emergency_opening order by at, id").query(String.class).list())
			.containsExactly("/patients/" + this.patient, "/series/" + this.series, "/history/patient/" + this.patient);

		assertThat(desk.open("/follow-up").text()).as("on every page").contains("Emergency access to record K-1");
		this.clock.advance(Duration.ofMinutes(60));
		assertThat(desk.open("/series/" + this.series).status()).isEqualTo(403);
		assertThat(desk.open("/follow-up").text()).doesNotContain("Emergency access to record K-1");
	}

	@Test
	void changesNothingByIt() {
		var desk = visitor().signIn("f.moor", PASSWORD).follow();
		begin(desk);
		var form = desk.follow().form("/emergency-access/end");
		assertThat(desk.send(form, "/series/" + this.series + "/end").status()).isEqualTo(403);
		assertThat(desk.send(form, "/series/" + this.series + "/advice/decision").status()).isEqualTo(403);
	}

	@Test
	void endsByHand() {
		var desk = visitor().signIn("f.moor", PASSWORD).follow();
		begin(desk);
		assertThat(desk.follow().send("/emergency-access/end").follow().text())
			.contains("The emergency access has ended");
		assertThat(desk.open("/series/" + this.series).status()).isEqualTo(403);
	}

	@Test
	void isOpenToAnAdministratorWhoSeesNoRecordOtherwise() {
		var administrator = this.staff.as(Role.ADMINISTRATOR);
		assertThat(this.pages.get().uri("/patients/" + this.patient).with(administrator))
			.hasStatus(HttpStatus.FORBIDDEN);
		assertThat(this.pages.post()
			.uri("/emergency-access")
			.with(administrator)
			.with(csrf())
			.param("recordNumber", "K-1")
			.param("reason", REASON)
			.param("confirmed", "true")).redirectedUrl().isEqualTo("/patients/" + this.patient);
		assertThat(this.pages.get().uri("/patients/" + this.patient).with(administrator)).hasStatusOk();
		assertThat(this.pages.get().uri("/patients").with(administrator)).hasStatus(HttpStatus.FORBIDDEN);
	}

	@Test
	void opensNothingToATokenOfTheAccount() {
		var desk = visitor().signIn("f.moor", PASSWORD).follow();
		String token = desk.open("/tokens").send("/tokens").page().select("#made-token").text();
		begin(desk);
		assertThat(this.pages.get().uri("/series/" + this.series).header("Authorization", "Bearer " + token))
			.hasStatus(HttpStatus.FORBIDDEN);
		assertThat(this.pages.get().uri("/patients/" + this.patient).header("Authorization", "Bearer " + token))
			.hasStatusOk();
		assertThat(this.database.sql("""
				select count(*) from audit_entry e join api_token on api_token.id = e.origin_id
				where e.origin = 'token' and e.action = 'opened' and e.emergency_id is null""")
			.query(Integer.class)
			.single()).as("said of the token in the audit log").isOne();
	}

	@Test
	void asksForARecordAReasonAndAConfirmation() {
		var desk = visitor().signIn("f.moor", PASSWORD).follow().open("/emergency-access");
		desk.send("/emergency-access", "recordNumber", "K-9", "reason", "because", "_confirmed", "on");
		assertThat(desk.status()).isEqualTo(422);
		assertThat(desk.text()).contains("No patient has this record number")
			.contains("Say it in 10 to 500 characters")
			.contains("Confirm that care needs it now");
		assertThat(desk.page().selectFirst("textarea[name=reason]").text()).isEqualTo("because");
		assertThat(desk.open("/emergency-access?patient=" + this.patient)
			.page()
			.selectFirst("input[name=recordNumber]")
			.val()).isEqualTo("K-1");
	}

	@Test
	void isInTheAuditLogWithWhereItWasUsed() {
		var desk = visitor().signIn("f.moor", PASSWORD).follow();
		begin(desk);
		desk.from("192.0.2.7").open("/series/" + this.series);
		assertThat(this.database.sql("""
				select e.action || ' ' || e.address || ' ' || e.origin from audit_entry e
				join sign_in on sign_in.id = e.origin_id
				join emergency_access used on used.id = e.emergency_id and used.patient_id = e.patient_id""")
			.query(String.class)
			.list()).containsExactly("opened 192.0.2.7 sign_in");
		assertThat(this.database.sql("""
				select staff.name || ' ' || detail from audit_entry join staff on staff.id = audit_entry.staff_id
				where action = 'emergency' and patient_id = :patient""")
			.param("patient", this.patient)
			.query(String.class)
			.single()).isEqualTo("f.moor begun");
	}

	@Test
	void waitsForTheReviewOfAClinicLead() {
		var desk = visitor().signIn("f.moor", PASSWORD).follow();
		begin(desk);
		desk.follow().open("/series/" + this.series);

		var lead = lead();
		assertThat(lead.open("/follow-up").text()).contains("One emergency access waits for a review");
		lead.open("/setup/emergency-access");
		assertThat(lead.text()).contains("f.moor: record K-1")
			.contains(REASON)
			.contains("20 Nov 2026 09:00")
			.contains("/series/" + this.series);
		var review = lead.page().selectFirst("form[action$=/review]").attr("action");
		assertThat(lead.send(review).status()).isEqualTo(422);
		assertThat(lead.send(review, "justified", "false").text()).contains("Say what was found and what follows");
		assertThat(lead.send(review, "justified", "true", "note", "The practitioner was in the other house.")
			.follow()
			.text()).contains("Nothing waits for a review")
			.contains("the reason held")
			.contains("The practitioner was in the other house.");
		assertThat(lead.open("/follow-up").text()).doesNotContain("waits for a review");
		assertThat(desk.open("/follow-up").text()).as("to whom it is no concern").doesNotContain("waits for a review");
	}

	@Test
	void letsNobodyReviewTheirOwn() {
		begin(visitor().signIn("f.moor", PASSWORD).follow());
		this.database.sql(
				"update account_role set role = 'clinic_lead' where account_id = (select account_id from emergency_access)")
			.update();
		var access = this.database.sql("select id from emergency_access").query(UUID.class).single();
		var own = visitor().signIn("f.moor", PASSWORD).follow();
		var app = CodeApp.reading(own.page().select("#second-factor-secret").text());
		own.send("/account/second-factor", "code", app.code(this.clock));
		own.open("/setup/emergency-access");
		assertThat(own.text()).contains("another clinic lead reviews it");
		assertThat(own.page().select("form[action$=/review]")).isEmpty();
		var form = own.open("/account").form("/account/sign-ins/end");
		assertThat(own.send(form, "/setup/emergency-access/" + access + "/review", "justified", "true").status())
			.isEqualTo(422);
	}

	@Test
	void endsWithTheAccount() {
		var desk = visitor().signIn("f.moor", PASSWORD).follow();
		begin(desk);
		var account = this.database.sql("select account_id from emergency_access").query(UUID.class).single();
		assertThat(this.pages.post()
			.uri("/setup/accounts/" + account + "/active")
			.with(this.staff.as(Role.ADMINISTRATOR))
			.with(csrf())
			.param("active", "false")).hasStatus3xxRedirection();
		assertThat(this.database.sql("select ended_at is not null from emergency_access").query(Boolean.class).single())
			.isTrue();
	}

	/**
	 * Every address of a record in the table of routes names something that leads to a
	 * patient.
	 */
	@Test
	void knowsWhoseRecordEveryAddressOfARecordShows() {
		var variable = Pattern.compile("\\{(\\w+)}");
		for (var route : Routes.all().stream().filter(Routes.Route::record).toList()) {
			var values = variable.matcher(route.pattern())
				.results()
				.map((found) -> found.group(1))
				.collect(Collectors.toMap((name) -> name, this::valueOf));
			assertThat(this.index.shownAt(values)).as(route.pattern()).contains(this.patient);
		}
	}

	@ParameterizedTest
	@ValueSource(strings = { "patient", "series", "session", "scar", "finding" })
	void findsNobodyForWhatIsNoId(String variable) {
		assertThat(this.index.shownAt(Map.of(variable, "'; --"))).isEmpty();
		assertThat(this.index.shownAt(Map.of("kind", "account", "entry", "x"))).isEmpty();
		assertThat(this.index.shownAt(Map.of())).isEmpty();
	}

	private String valueOf(String variable) {
		return switch (variable) {
			case "patient" -> this.patient.toString();
			case "series" -> this.series.toString();
			case "kind" -> "series";
			case "entry" -> this.series.toString();
			case "finding" -> findingOf(this.patient).toString();
			case "session" -> sessionOf(this.series).toString();
			case "photograph" -> photographOf(this.patient).toString();
			default -> "2026-11-20";
		};
	}

	private void begin(Visitor visitor) {
		visitor.open("/emergency-access")
			.send("/emergency-access", "recordNumber", "K-1", "reason", REASON, "confirmed", "true");
	}

	private Visitor lead() {
		this.accounts.open("l.hagen", Set.of(Role.CLINIC_LEAD), PASSWORD);
		var lead = visitor().signIn("l.hagen", PASSWORD).follow();
		var app = CodeApp.reading(lead.page().select("#second-factor-secret").text());
		return lead.send("/account/second-factor", "code", app.code(this.clock));
	}

	private UUID photographOf(UUID person) {
		return this.database
			.sql("""
					insert into photograph (patient_id, taken_on, view, light_set, mirrored, width, height, bytes, sha256,
						source_sha256)
					values (:patient, '2026-11-02', 'front', 'flat', false, 1, 1, 1, sha256('a'), sha256(gen_random_uuid()::text::bytea))
					returning id""")
			.param("patient", person)
			.query(UUID.class)
			.single();
	}

	private UUID registered(String recordNumber) {
		return this.database.sql("insert into patient (record_number) values (:number) returning id")
			.param("number", recordNumber)
			.query(UUID.class)
			.single();
	}

	private UUID seriesOf(UUID patient) {
		return this.database.sql("""
				insert into series (patient_id, number, status, protocol_version)
				values (:patient, 1, 'open', (select max(number) from protocol_version)) returning id""")
			.param("patient", patient)
			.query(UUID.class)
			.single();
	}

	private UUID sessionOf(UUID series) {
		return this.database.sql("""
				insert into session (patient_id, series_id, number, treated_on, practitioner_id)
				values (:patient, :series, 1, '2026-11-01', (select id from staff limit 1)) returning id""")
			.param("patient", this.patient)
			.param("series", series)
			.query(UUID.class)
			.single();
	}

	private UUID findingOf(UUID patient) {
		return this.database
			.sql("""
					insert into finding (code, patient_id, kind, first_noted_on) values ('A1', :patient, 'lump', '2026-11-02')
					returning id""")
			.param("patient", patient)
			.query(UUID.class)
			.single();
	}

	private Visitor visitor() {
		return new Visitor(this.pages, "192.0.2.10");
	}

}
