package org.seriatim.outcome.web;

import java.util.List;

import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import org.seriatim.access.Role;
import org.seriatim.exchange.BundleImport;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

@PageTest
@OneDatabase
class OutsideReportPageTests {

	private static final String QUARTER = "2026-Q3";

	@Autowired
	MockMvcTester pages;

	@Autowired
	TestStaff staff;

	@Autowired
	BundleImport records;

	@Autowired
	JdbcClient database;

	@BeforeEach
	void loadTheSampleClinicOnce() {
		OutcomeFiles.loadTheSampleClinicOnce(this.database, this.records);
		assertThat(issue(QUARTER)).hasStatus(HttpStatus.FOUND);
	}

	private MvcTestResult issue(String quarter) {
		return this.pages.post()
			.uri("/outcomes/report/outside")
			.param("quarter", quarter)
			.with(csrf())
			.with(this.staff.as(Role.CLINIC_LEAD))
			.exchange();
	}

	/**
	 * Issued again after a correction it would hold another number in some place, and the
	 * two together would tell what each hides.
	 */
	@Test
	void anIssuedReportStaysAsItWasWhateverBecomesOfTheRecords() {
		var address = "/outcomes/report/outside.csv?quarter=2026-Q2&table=rates";
		assertThat(this.pages.get().uri(address).with(this.staff.as(Role.CLINIC_LEAD))).hasStatus(HttpStatus.NOT_FOUND);
		assertThat(
				this.pages.get().uri("/outcomes/report/outside?quarter=2026-Q2").with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatusOk()
			.bodyText()
			.contains("has not been issued")
			.doesNotContain("<table");
		assertThat(issue("2026-Q2")).hasStatus(HttpStatus.FOUND);
		var before = OutcomeFiles.read(this.pages, this.staff, address);
		this.database.sql("""
				update finding set kind = 'erythema', version = version + 1, correction_reason = 'a slip'
				where kind = 'bruise' and session_id in (
					select id from session where treated_on between date '2026-04-01' and date '2026-06-30')""")
			.update();
		assertThat(
				OutcomeFiles.read(this.pages, this.staff, "/outcomes/complications.csv?from=2026-04-01&to=2026-06-30")
					.stream()
					.map((row) -> row.get("kind")))
			.doesNotContain("bruise");
		assertThat(issue("2026-Q2")).hasStatus(HttpStatus.FOUND);
		assertThat(OutcomeFiles.read(this.pages, this.staff, address)).extracting(CSVRecord::toMap)
			.isEqualTo(before.stream().map(CSVRecord::toMap).toList());
		assertThat(this.database.sql("select count(*) from issued_report where quarter = '2026-Q2'")
			.query(Integer.class)
			.single()).isEqualTo(1);
	}

	/** A running quarter would have to be issued again when it has ended. */
	@Test
	void aQuarterThatHasNotEndedIsNotIssued() {
		assertThat(issue("2026-Q4")).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("This quarter has not ended");
	}

	private List<CSVRecord> outside(String table) {
		return OutcomeFiles.read(this.pages, this.staff,
				"/outcomes/report/outside.csv?quarter=" + QUARTER + "&table=" + table);
	}

	/** No number from 1 to 10 stands in a column of counts. */
	@ParameterizedTest
	@ValueSource(strings = { "flow", "scars", "changed", "gais", "scales", "pores", "lumps", "rates", "beside", "error",
			"quarters" })
	void noTableHoldsASmallCount(String table) {
		var counts = List.of("patients", "series", "sessions", "assessed", "awaited", "lost", "scars", "resolved",
				"grade_scars", "better_scars", "worse_scars", "judgements", "pairs", "lumps", "right_censored",
				"recurrent", "sessions_with_finding", "patients_with_finding", "findings", "unresolved", "unobserved",
				"pairs_rated", "entries", "wrong");
		for (var row : outside(table)) {
			row.toMap().forEach((column, value) -> {
				if (counts.contains(column) && !value.isEmpty() && !value.equals("suppressed")) {
					assertThat(Integer.parseInt(value)).as(table + " " + column).matches((n) -> n == 0 || n > 10);
				}
			});
		}
	}

	/** From a rate and the sessions, the sessions with the finding could be computed. */
	@Test
	void aRateGoesWithItsCount() {
		var inside = OutcomeFiles.read(this.pages, this.staff,
				"/outcomes/complications.csv?from=2026-07-01&to=2026-09-30");
		var small = inside.stream()
			.filter((row) -> Integer.parseInt(row.get("sessions_with_finding")) < 11)
			.findFirst()
			.orElseThrow();
		assertThat(outside("rates")).filteredOn((row) -> row.get("kind").equals(small.get("kind")))
			.singleElement()
			.satisfies((row) -> assertThat(
					List.of(row.get("sessions_with_finding"), row.get("rate"), row.get("low"), row.get("high")))
				.containsOnly("suppressed"));
		assertThat(outside("rates")).hasSameSizeAs(inside);
	}

	@Test
	void whatIsShownIsWhatTheClinicSees() {
		var inside = OutcomeFiles.read(this.pages, this.staff,
				"/outcomes/improvement.csv?from=2026-07-01&to=2026-09-30");
		var outside = outside("scars");
		assertThat(outside).hasSameSizeAs(inside)
			.anySatisfy((row) -> assertThat(row.get("scars")).containsOnlyDigits());
		for (int i = 0; i < inside.size(); i++) {
			var row = inside.get(i).toMap();
			outside.get(i).toMap().forEach((column, value) -> assertThat(value).isIn("suppressed", row.get(column)));
		}
	}

	@Test
	void pageIsForPaperAndSaysWhatIsHidden() {
		assertThat(this.pages.get()
			.uri("/outcomes/report/outside?quarter=" + QUARTER)
			.with(this.staff.as(Role.CLINIC_LEAD))).hasStatusOk()
			.bodyText()
			.contains("Report for outside the clinic")
			.contains("suppressed")
			.contains("Counts from 1 to 10 are suppressed")
			.doesNotContain("a.venn");
	}

	@Test
	void asksForAQuarterAndATable() {
		assertThat(this.pages.get().uri("/outcomes/report/outside?quarter=soon").with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatus(HttpStatus.BAD_REQUEST)
			.bodyText()
			.contains("Enter a quarter");
		assertThat(this.pages.get()
			.uri("/outcomes/report/outside.csv?quarter=2026-Q3&table=names")
			.with(this.staff.as(Role.CLINIC_LEAD))).hasStatus(HttpStatus.BAD_REQUEST);
	}

	@Test
	void onlyALeadMakesIt() {
		assertThat(this.pages.get().uri("/outcomes/report/outside").with(this.staff.as(Role.PRACTITIONER)))
			.hasStatus(HttpStatus.FORBIDDEN);
	}

}
