package org.seriatim.outcome.web;

import java.util.HashSet;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import org.seriatim.access.Role;
import org.seriatim.exchange.BundleImport;
import org.seriatim.support.Expected;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Recall, repeatability and data quality of the sample clinic. Repeatability against
 * figures that a program written apart from this one computed (expected.json).
 */
@PageTest
@OneDatabase
class RecallAndQualityPageTests {

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
	}

	/** preparations.csv has 15 rows of LT40, each of a session of its own. */
	@Test
	void aRecallListsEverySessionWithTheLotAndPutsTheLooksOnRecord() {
		var rows = OutcomeFiles.read(this.pages, this.staff, "/outcomes/recall.csv?lot=LT40");
		assertThat(rows).hasSize(15).allSatisfy((row) -> assertThat(row.get("regions")).isNotEmpty());
		var patients = new HashSet<String>();
		rows.forEach((row) -> patients.add(row.get("record_number")));
		assertThat(this.database.sql("""
				select count(distinct patient_id) from audit_entry
				where action = 'opened' and kind = 'patient' and detail = 'recall'""").query(Integer.class).single())
			.isEqualTo(patients.size());
		assertThat(this.pages.get().uri("/outcomes/recall?lot=LT40").with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatusOk()
			.bodyText()
			.contains(patients)
			.contains(patients.size() + " patients, 15 sessions");
	}

	@Test
	void onlyALeadMayRecallAndOnlyALotOnRecord() {
		assertThat(this.pages.get().uri("/outcomes/recall?lot=LT40").with(this.staff.as(Role.PRACTITIONER)))
			.hasStatus(HttpStatus.FORBIDDEN);
		assertThat(this.pages.get().uri("/outcomes/recall?lot=nowhere").with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatus(HttpStatus.BAD_REQUEST)
			.bodyText()
			.contains("Choose one of the values offered");
		assertThat(this.pages.get().uri("/outcomes/recall").with(this.staff.as(Role.CLINIC_LEAD))).hasStatusOk();
	}

	/** A cell that a spreadsheet would take for a formula is only text. */
	@Test
	void cellsOfAReportAreOnlyText() {
		this.database.sql("update patient set family_name = '=1+1', version = version + 1, correction_reason = 'test' "
				+ "where record_number = (select record_number from patient join session on patient.id = patient_id "
				+ "join preparation on session_id = session.id where lot = 'LT41' order by 1 limit 1)")
			.update();
		assertThat(OutcomeFiles.read(this.pages, this.staff, "/outcomes/recall.csv?lot=LT41"))
			.anySatisfy((row) -> assertThat(row.get("patient")).startsWith("'=1+1"));
	}

	@Test
	void repeatabilityMeetsTheExpectedFigures() {
		var rows = OutcomeFiles.read(this.pages, this.staff, "/outcomes/repeatability.csv");
		for (var expected : Expected.figures("repeatability")) {
			var row = rows.stream()
				.filter((one) -> one.get("raters").equals(expected.get("raters").asString()))
				.findFirst()
				.orElseThrow();
			assertThat(row.get("pairs_rated")).isEqualTo(expected.get("pairs").asString());
			assertThat(row.get("patients")).isEqualTo(expected.get("patients").asString());
			OutcomeFiles.assertSame(row.get("sem_log"), expected.get("sem_log"));
			OutcomeFiles.assertSame(row.get("sdc_log"), expected.get("sdc_log"));
		}
	}

	@Test
	void repeatabilitySaysWhatIsStillNeeded() {
		var rows = OutcomeFiles.read(this.pages, this.staff, "/outcomes/repeatability.csv?from=2190-01-01");
		assertThat(rows).allSatisfy((row) -> {
			assertThat(row.get("pairs_missing")).isEqualTo("10");
			assertThat(row.get("patients_missing")).isEqualTo("5");
			assertThat(row.get("sdc_log")).isEmpty();
		});
	}

	@ParameterizedTest
	@CsvSource({ "/outcomes/repeatability,Weighted kappa of grades", "/outcomes/data-quality,Contact overdue",
			"/outcomes/lumps,What goes with longer and shorter lumps",
			"/outcomes/lumps?group=layer,Do the groups differ?" })
	void pagesOpenToWhoeverMayMakeFinalEntries(String address, String text) {
		assertThat(this.pages.get().uri(address).with(this.staff.as(Role.PRACTITIONER))).hasStatusOk()
			.bodyText()
			.contains(text);
		assertThat(this.pages.get().uri(address).with(this.staff.as(Role.FRONT_DESK))).hasStatus(HttpStatus.FORBIDDEN);
	}

	/** Every depth of a pitted scar that is missing in scar_assessments.csv is found. */
	@Test
	void dataQualityLeadsToEachEntryToMend() {
		var rows = OutcomeFiles.read(this.pages, this.staff, "/outcomes/data-quality.csv");
		var missing = this.database.sql("""
				select count(*) from (
					select distinct a.patient_id, assessed_on, assessor_id from scar_assessment a
					join scar on scar.id = scar_id
					where depth_mm is null and type in ('ice_pick', 'boxcar', 'rolling', 'linear', 'fold')) visits""")
			.query(Integer.class)
			.single();
		assertThat(rows).filteredOn((row) -> row.get("problem").equals("missing_depth")).hasSize(missing);
		var quarters = OutcomeFiles.read(this.pages, this.staff, "/outcomes/data-quality.csv?table=quarters");
		assertThat(quarters.stream()
			.filter((row) -> row.get("problem").equals("missing_depth"))
			.mapToInt((row) -> Integer.parseInt(row.get("wrong")))
			.sum()).isEqualTo(missing);
	}

	@ParameterizedTest
	@ValueSource(strings = { "/outcomes/lumps?region=elbow", "/outcomes/lumps.csv?group=weekday",
			"/outcomes/repeatability?from=never", "/outcomes/data-quality?table=x&to=1",
			"/outcomes/lump-effects.csv?to=1" })
	void saysWhatToMend(String address) {
		assertThat(this.pages.get().uri(address).with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatus(HttpStatus.BAD_REQUEST);
	}

	@Test
	void effectsOfThePageAreThoseOfTheFile() {
		var rows = OutcomeFiles.read(this.pages, this.staff, "/outcomes/lump-effects.csv");
		assertThat(rows).isNotEmpty();
		var row = rows.get(0);
		assertThat(this.pages.get().uri("/outcomes/lumps").with(this.staff.as(Role.CLINIC_LEAD))).hasStatusOk()
			.bodyText()
			.contains("&quot;x&quot;:" + Double.parseDouble(row.get("time_ratio")))
			.contains(row.get("reading"));
	}

	/** The report, the page and the file of one quarter hold the same figures. */
	@Test
	void reportHoldsTheFiguresOfTheFiles() {
		var row = OutcomeFiles
			.read(this.pages, this.staff, "/outcomes/complications.csv?from=2026-01-01&to=2026-03-31&kind=bruise")
			.get(0);
		assertThat(row.get("sessions_with_finding")).isNotEqualTo("0");
		assertThat(this.pages.get().uri("/outcomes/report?quarter=2026-Q1").with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatusOk()
			.bodyText()
			.contains("1 Jan 2026", "31 Mar 2026", "Definitions and versions", "protocol version 1")
			.contains("%.1f %%".formatted(100 * Double.parseDouble(row.get("rate"))));
		assertThat(this.pages.get().uri("/outcomes/report?quarter=2026-Q5").with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatus(HttpStatus.BAD_REQUEST)
			.bodyText()
			.contains("Enter a quarter");
		assertThat(this.pages.get().uri("/outcomes/report").with(this.staff.as(Role.PRACTITIONER)))
			.hasStatus(HttpStatus.FORBIDDEN);
	}

}
