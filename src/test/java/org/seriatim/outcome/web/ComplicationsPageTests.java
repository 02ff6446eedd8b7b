package org.seriatim.outcome.web;

import java.util.stream.Stream;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import tools.jackson.databind.JsonNode;

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
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/**
 * The sample clinic's complications, against figures that a program written apart from
 * this one computed (expected.json, R and Python).
 */
@PageTest
@OneDatabase
class ComplicationsPageTests {

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

	static Stream<String> groupings() {
		return Expected.figures("complications").stream().map((row) -> row.get("group").asString()).distinct();
	}

	@ParameterizedTest
	@MethodSource("groupings")
	void meetsTheExpectedFigures(String grouping) {
		var expected = Expected.figures("complications")
			.stream()
			.filter((row) -> row.get("group").asString().equals(grouping))
			.toList();
		var rows = OutcomeFiles.read(this.pages, this.staff, "/outcomes/complications.csv?group=" + grouping);
		assertThat(rows).hasSameSizeAs(expected);
		for (JsonNode figures : expected) {
			var row = rows.stream()
				.filter((one) -> one.get("group").equals(figures.get("value").asString())
						&& one.get("kind").equals(figures.get("kind").asString()))
				.findFirst()
				.orElseThrow();
			assertThat(row.get("patients")).isEqualTo(figures.get("patients").asString());
			assertThat(row.get("sessions")).isEqualTo(figures.get("sessions").asString());
			assertThat(row.get("sessions_with_finding")).isEqualTo(figures.get("with_finding").asString());
			OutcomeFiles.assertSame(row.get("rate"), figures.get("rate"));
			OutcomeFiles.assertSame(row.get("wilson_low"), figures.get("wilson").get(0));
			OutcomeFiles.assertSame(row.get("wilson_high"), figures.get("wilson").get(1));
			OutcomeFiles.assertSame(row.get("design_effect"), figures.get("deff"));
			OutcomeFiles.assertSame(row.get("low"), figures.get("clustered").get(0));
			OutcomeFiles.assertSame(row.get("high"), figures.get("clustered").get(1));
		}
	}

	@Test
	void fileHasTheColumnsThatScriptsRelyOn() {
		assertThat(this.pages.get().uri("/outcomes/complications.csv").with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatusOk()
			.bodyText()
			.startsWith("group,kind,patients,sessions,sessions_with_finding,rate,wilson_low,wilson_high,design_effect,"
					+ "low,high\nall,lump,");
	}

	@Test
	void aKindThatWasNeverFoundHasARateOfNothing() {
		var rows = OutcomeFiles.read(this.pages, this.staff, "/outcomes/complications.csv?kind=burn");
		assertThat(rows).singleElement().satisfies((row) -> {
			assertThat(row.get("sessions_with_finding")).isEqualTo("0");
			assertThat(row.get("low")).isEqualTo("0");
		});
		assertThat(this.pages.get().uri("/outcomes/complications?kind=burn").with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatusOk()
			.bodyText()
			.contains("No chart is possible");
	}

	@ParameterizedTest
	@ValueSource(strings = { "region", "phototype" })
	void countsASessionInEveryGroupItBelongsTo(String grouping) {
		assertThat(
				OutcomeFiles.read(this.pages, this.staff, "/outcomes/complications.csv?kind=bruise&group=" + grouping))
			.hasSizeGreaterThan(3);
	}

	@Test
	void pageTablesAndPlotsHoldTheFiguresOfTheFiles() {
		var funnel = OutcomeFiles.read(this.pages, this.staff, "/outcomes/complications.csv?kind=bruise&table=lots")
			.get(0);
		var charts = OutcomeFiles.read(this.pages, this.staff, "/outcomes/complications.csv?kind=bruise&table=charts")
			.get(0);
		assertThat(this.pages.get().uri("/outcomes/complications?kind=bruise").with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatusOk()
			.bodyText()
			.contains("&quot;y&quot;:" + Double.parseDouble(funnel.get("rate")))
			.contains("%.1f %%".formatted(100 * Double.parseDouble(funnel.get("rate"))))
			.contains("&quot;at&quot;:" + Double.parseDouble(charts.get("threshold")))
			.contains("%.2f".formatted(Double.parseDouble(charts.get("sum"))))
			.contains("no league table");
	}

	@Test
	void rareFindingsHaveTheSessionsBetweenThem() {
		assertThat(OutcomeFiles.read(this.pages, this.staff,
				"/outcomes/complications.csv?kind=infection_local&table=gaps"))
			.hasSize(5);
	}

	@Test
	void showsPractitionersByCodeUntilTheLeadOpensTheNames() {
		var address = "/outcomes/complications?kind=bruise&group=practitioner";
		assertThat(this.pages.get().uri(address).with(this.staff.as(Role.PRACTITIONER))).hasStatusOk()
			.bodyText()
			.doesNotContain("a.venn");
		assertThat(OutcomeFiles.read(this.pages, this.staff, address.replace("?", ".csv?")))
			.extracting((row) -> row.get("group"))
			.contains("a.venn");
		assertThat(this.database.sql("""
				select count(*) from audit_entry where kind = 'practitioner_names' and action = 'opened'""")
			.query(Integer.class)
			.single()).isPositive();
		assertThat(this.pages.post()
			.uri("/outcomes/practitioner-names")
			.with(csrf())
			.with(this.staff.as(Role.CLINIC_LEAD))).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(this.pages.post()
			.uri("/outcomes/practitioner-names")
			.param("reason", "The team has agreed")
			.with(csrf())
			.with(this.staff.as(Role.CLINIC_LEAD))).hasStatus(HttpStatus.FOUND);
		assertThat(this.pages.get().uri(address).with(this.staff.as(Role.PRACTITIONER))).bodyText().contains("a.venn");
		assertThat(this.pages.post()
			.uri("/outcomes/practitioner-names")
			.param("close", "yes")
			.with(csrf())
			.with(this.staff.as(Role.CLINIC_LEAD))).hasStatus(HttpStatus.FOUND);
		assertThat(this.pages.get().uri(address).with(this.staff.as(Role.PRACTITIONER))).bodyText()
			.doesNotContain("a.venn");
	}

	@Test
	void aReviewKeepsWhoLookedWhatWasFoundAndWhatWasDone() {
		var opened = this.pages.post()
			.uri("/outcomes/reviews")
			.param("kind", "bruise")
			.param("chart", "funnel")
			.param("unit", "lot")
			.param("value", "LT41")
			.with(csrf())
			.with(this.staff.as(Role.CLINIC_LEAD))
			.exchange();
		assertThat(opened).hasStatus(HttpStatus.FOUND);
		var address = opened.getResponse().getRedirectedUrl();
		assertThat(this.pages.post()
			.uri(address)
			.param("ended", "true")
			.param("version", "0")
			.with(csrf())
			.with(this.staff.as(Role.CLINIC_LEAD))).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		var who = this.database.sql("select id::text from staff where name = 'a.venn'").query(String.class).single();
		assertThat(this.pages.post()
			.uri(address)
			.param("lookedBy", who)
			.param("whatWasFound", "The needle of one batch was blunt")
			.param("whatWasDone", "The batch was sent back")
			.param("ended", "true")
			.param("version", "0")
			.with(csrf())
			.with(this.staff.as(Role.CLINIC_LEAD))).hasStatus(HttpStatus.FOUND);
		assertThat(this.pages.post()
			.uri(address)
			.param("whatWasFound", "Something else")
			.param("reason", "a slip")
			.param("version", "0")
			.with(csrf())
			.with(this.staff.as(Role.CLINIC_LEAD))).hasStatus(HttpStatus.CONFLICT);
		assertThat(this.pages.get().uri(address).with(this.staff.as(Role.CLINIC_LEAD))).hasStatusOk()
			.bodyText()
			.contains("The needle of one batch was blunt", "Earlier versions", "lot LT41");
		assertThat(this.pages.get().uri("/outcomes/reviews").with(this.staff.as(Role.CLINIC_LEAD))).bodyText()
			.contains("lot LT41", "Ended");
		assertThat(this.pages.get().uri("/outcomes/reviews").with(this.staff.as(Role.PRACTITIONER)))
			.hasStatus(HttpStatus.FORBIDDEN);
	}

	@ParameterizedTest
	@CsvSource({ "kind=plague", "group=weekday", "alarm=3", "phototype=9" })
	void saysAtTheFilterWhatToMend(String query) {
		assertThat(this.pages.get().uri("/outcomes/complications?" + query).with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatus(HttpStatus.BAD_REQUEST)
			.bodyText()
			.contains("Choose one of the values offered");
	}

}
