package org.seriatim.outcome.web;

import java.util.stream.Stream;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.transaction.annotation.Transactional;

import org.apache.commons.csv.CSVRecord;
import org.seriatim.access.Role;
import org.seriatim.assessment.FaceCount;
import org.seriatim.exchange.BundleImport;
import org.seriatim.support.Expected;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * The sample clinic's improvement, against figures that a program written apart from this
 * one computed (expected.json, R and Python).
 */
@PageTest
@OneDatabase
class ImprovementPageTests {

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

	static Stream<JsonNode> figures() {
		return Expected.figures("improvement").stream();
	}

	@ParameterizedTest
	@MethodSource("figures")
	void meetsTheExpectedFigures(JsonNode expected) {
		var row = OutcomeFiles.read(this.pages, this.staff, "/outcomes/improvement.csv?group=scar_type")
			.stream()
			.filter((one) -> one.get("group").equals(expected.get("type").asString())
					&& one.get("stage").equals(expected.get("stage").asString()))
			.findFirst()
			.orElseThrow();
		assertThat(row.get("patients")).isEqualTo(expected.get("patients").asString());
		assertThat(row.get("scars")).isEqualTo(expected.get("scars").asString());
		OutcomeFiles.assertSame(row.get("mean_percent"), expected.get("mean"));
		OutcomeFiles.assertSame(row.get("standard_error"), expected.get("se"));
		OutcomeFiles.assertSame(row.get("low"), expected.get("limits").get(0));
		OutcomeFiles.assertSame(row.get("high"), expected.get("limits").get(1));
	}

	@Test
	void fileHasTheColumnsThatScriptsRelyOn() {
		assertThat(this.pages.get().uri("/outcomes/improvement.csv").with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatusOk()
			.bodyText()
			.startsWith(
					"group,stage,patients,scars,mean_percent,standard_error,low,high,resolved,grade_scars,mean_grade_change\n");
	}

	/*
	 * The sample clinic says of no scar what became of it, so each row starts from its
	 * expected figures.
	 */
	@Test
	@Transactional
	void leavesOutAScarThatIsFollowedNoLongerAndSaysSo() {
		var before = scarsOf("boxcar", "2");
		classify("excluded");
		assertThat(scarsOf("boxcar", "2")).isEqualTo(before - 1);
		assertThat(this.pages.get().uri("/outcomes/improvement").with(this.staff.as(Role.CLINIC_LEAD))).bodyText()
			.containsPattern("[1-9] that had merged, split or been excluded");
		classify("assessed");
		assertThat(scarsOf("boxcar", "2")).isEqualTo(before);
	}

	@Test
	@Transactional
	void countsAScarThatWasSeenToBeGoneAmongTheResolved() {
		var before = row("boxcar", "2");
		classify("resolved");
		var after = row("boxcar", "2");
		assertThat(after.get("scars")).isEqualTo(before.get("scars"));
		assertThat(Integer.parseInt(after.get("resolved"))).isEqualTo(Integer.parseInt(before.get("resolved")) + 1);
	}

	private int scarsOf(String type, String stage) {
		return Integer.parseInt(row(type, stage).get("scars"));
	}

	private CSVRecord row(String type, String stage) {
		return OutcomeFiles.read(this.pages, this.staff, "/outcomes/improvement.csv")
			.stream()
			.filter((one) -> one.get("group").equals(type) && one.get("stage").equals(stage))
			.findFirst()
			.orElseThrow();
	}

	/**
	 * One boxcar scar of a series with two sessions or more, on a day after its last
	 * depth within stage 2.
	 */
	private void classify(String state) {
		this.database
			.sql("""
					insert into scar_state (patient_id, scar_id, assessed_on, assessor_id, state, reason)
					select patient_id, scar_id, day + (select count(*) from scar_state)::int, (select id from staff limit 1), :state,
						case when :state = 'excluded' then 'lasered elsewhere' end
					from (
						select a.patient_id, a.scar_id, max(a.assessed_on) + 1 as day
						from scar_assessment a
						join scar on scar.id = a.scar_id and scar.type = 'boxcar'
						join session second on second.patient_id = a.patient_id and second.number = 2
							and a.assessed_on > second.treated_on
						where a.depth_mm > 0
							and not exists (select from session third where third.patient_id = a.patient_id and third.number = 3)
							and exists (select from scar_assessment began
								join session first on first.patient_id = began.patient_id and first.number = 1
								where began.scar_id = a.scar_id and began.depth_mm > 0 and began.assessed_on <= first.treated_on
									and began.depth_method = a.depth_method)
						group by a.patient_id, a.scar_id
						order by a.scar_id limit 1) one""")
			.param("state", state)
			.update();
	}

	@Test
	void rowsOfFewPatientsKeepTheirCountsOnly() {
		var rows = OutcomeFiles.read(this.pages, this.staff, "/outcomes/improvement.csv");
		assertThat(rows).filteredOn((row) -> Integer.parseInt(row.get("patients")) < 5)
			.isNotEmpty()
			.allSatisfy((row) -> assertThat(row.get("mean_percent") + row.get("low") + row.get("high")).isEmpty());
	}

	@Test
	void pageTableAndPlotHoldTheFiguresOfTheFile() {
		var row = OutcomeFiles.read(this.pages, this.staff, "/outcomes/improvement.csv").get(0);
		var shown = "%.1f %%".formatted(Double.parseDouble(row.get("mean_percent")));
		assertThat(this.pages.get().uri("/outcomes/improvement").with(this.staff.as(Role.CLINIC_LEAD))).hasStatusOk()
			.bodyText()
			.contains(shown)
			.contains("&quot;y&quot;:" + Double.parseDouble(row.get("mean_percent")))
			.contains("&quot;low&quot;:" + Double.parseDouble(row.get("low")))
			.contains("from 114 pairs of ratings by two assessors in 81 patients")
			.contains("Judged by");
	}

	@ParameterizedTest
	@CsvSource({ "changed,better_low", "gais,gais_3", "pores,mean_change", "pore_density,mean_change" })
	void everyTableIsAlsoAFile(String table, String column) {
		assertThat(OutcomeFiles.read(this.pages, this.staff, "/outcomes/improvement.csv?table=" + table)).isNotEmpty()
			.anySatisfy((row) -> assertThat(row.get(column)).isNotEmpty());
	}

	@Test
	void aFilterLimitsScarsAndSessions() {
		var all = OutcomeFiles.read(this.pages, this.staff, "/outcomes/improvement.csv");
		var boxcars = OutcomeFiles.read(this.pages, this.staff,
				"/outcomes/improvement.csv?scar_type=boxcar&to=2026-03-31");
		assertThat(boxcars).isNotEmpty().allSatisfy((row) -> assertThat(row.get("group")).isEqualTo("boxcar"));
		assertThat(boxcars.get(0).get("scars")).isNotEqualTo(all.get(0).get("scars"));
	}

	@ParameterizedTest
	@CsvSource({ "from=yesterday,Enter a date", "from=2026-02-01&to=2026-01-01,not before the first one",
			"region=elbow,Choose one of the values offered", "lot=nowhere,Choose one of the values offered",
			"to=9999-12-31,between 1900 and 2199" })
	void saysAtTheFilterWhatToMend(String query, String message) {
		assertThat(this.pages.get().uri("/outcomes/improvement?" + query).with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatus(HttpStatus.BAD_REQUEST)
			.bodyText()
			.contains(message)
			.contains("field--wrong");
		assertThat(this.pages.get().uri("/outcomes/improvement.csv?" + query).with(this.staff.as(Role.CLINIC_LEAD)))
			.hasStatus(HttpStatus.BAD_REQUEST)
			.bodyText()
			.contains(message);
	}

	@Test
	void showsPractitionersByCodeToEachOther() {
		var code = this.database.sql("select figure_code from staff where name = 'a.venn'")
			.query(String.class)
			.single();
		assertThat(this.pages.get().uri("/outcomes/improvement").with(this.staff.as(Role.PRACTITIONER))).hasStatusOk()
			.bodyText()
			.contains(code)
			.doesNotContain("a.venn");
		assertThat(this.pages.get()
			.uri("/outcomes/improvement?practitioner=a.venn")
			.with(this.staff.as(Role.PRACTITIONER))).hasStatus(HttpStatus.BAD_REQUEST);
		assertThat(this.pages.get()
			.uri("/outcomes/improvement?practitioner=" + code)
			.with(this.staff.as(Role.PRACTITIONER))).hasStatusOk();
	}

	@Test
	void gainOfOneMoreSessionIsComputedWithTheSnapshotOfTheImport() {
		assertThat(this.database.sql("select count(*) from gain_snapshot").query(Integer.class).single()).isPositive();
		var rows = OutcomeFiles.read(this.pages, this.staff, "/outcomes/improvement.csv?table=gain");
		assertThat(rows).filteredOn((row) -> Integer.parseInt(row.get("patients")) < 5)
			.allSatisfy((row) -> assertThat(row.get("method") + row.get("gain_percent")).isEqualTo("too_few"));
		var first = rows.get(0);
		assertThat(first.get("series_session")).isEqualTo("1");
		assertThat(Double.parseDouble(first.get("gain_percent"))).isBetween(Double.parseDouble(first.get("low")),
				Double.parseDouble(first.get("high")));
		assertThat(this.pages.get().uri("/outcomes/improvement").with(this.staff.as(Role.CLINIC_LEAD))).hasStatusOk()
			.bodyText()
			.contains("%.1f %%".formatted(Double.parseDouble(first.get("gain_percent"))))
			.contains("&quot;y&quot;:" + Double.parseDouble(first.get("gain_percent")))
			.contains("Computed with snapshot");
	}

	/**
	 * Of six patients the whole face was counted on the day of the first session and on
	 * the next: 21 ice pick scars in two regions (15 times class 3), 4 boxcar (20 times
	 * class 1) and a keloid (50 times class 1) make 115; 20 ice pick (15 times class 2)
	 * and the keloid 80 (weights and classes of Dreno et al. 2007 as docs/clinical.md has
	 * them). The count of one of them lacks a cell and so has no score.
	 */
	@Test
	@Transactional
	void eccaOfCompleteCountsStandsAmongTheScales() {
		this.database.sql("insert into staff (name) values ('c.ounter')").update();
		count("treated_on", 11, 10, 4);
		count("treated_on + 1", 10, 10, 0);
		this.database.sql("""
				insert into global_assessment (patient_id, assessed_on, assessor_id, scale, item, value)
				select distinct patient_id, assessed_on, assessor_id, 'scar-s', site.item,
					site.value - case when count = 11 then 0 else 1 end
				from scar_count cross join (values ('face', 4), ('chest', 2), ('back', 1)) site (item, value)
				where region = 'chin' and type = 'ice_pick'
					and assessor_id = (select id from staff where name = 'c.ounter')""").update();
		var rows = OutcomeFiles.read(this.pages, this.staff, "/outcomes/improvement.csv?table=scales")
			.stream()
			.filter((row) -> row.get("stage").equals("1"))
			.toList();
		assertScale(rows, "ecca.total", 5, 115, 80);
		assertScale(rows, "ecca.atrophic", 5, 65, 30);
		assertScale(rows, "ecca.raised", 5, 50, 50);
		assertScale(rows, "scar-s.sum", 6, 7, 4);
		for (String address : java.util.List.of("/outcomes/improvement", "/outcomes/report?quarter=2026-Q1")) {
			assertThat(this.pages.get().uri(address).with(this.staff.as(Role.CLINIC_LEAD))).hasStatusOk()
				.bodyText()
				.contains("ECCA, 0 to 540", "wait to be confirmed against the paper");
		}
	}

	private static void assertScale(java.util.List<CSVRecord> rows, String item, int patients, double before,
			double after) {
		assertThat(rows).filteredOn((row) -> row.get("item").equals(item)).singleElement().satisfies((row) -> {
			assertThat(row.get("patients")).isEqualTo("" + patients);
			assertThat(Double.parseDouble(row.get("mean_before"))).isEqualTo(before);
			assertThat(Double.parseDouble(row.get("mean_after"))).isEqualTo(after);
			assertThat(Double.parseDouble(row.get("mean_change"))).isEqualTo(after - before);
		});
	}

	/** All 17 regions of the face and all six types that the score weighs. */
	private void count(String day, int icePickChin, int icePickNose, int boxcar) {
		this.database.sql("""
				insert into scar_count (patient_id, region, type, assessed_on, assessor_id, count)
				select patient_id, cast(region as region), type, %s, (select id from staff where name = 'c.ounter'),
					case when region = 'chin' and type = 'ice_pick' then :chin
						when region = 'nose' and type = 'ice_pick' then :nose
						when region = 'nose' and type = 'boxcar' then :boxcar
						when region = 'perioral' and type = 'keloid' then 1 else 0 end
				from (
					select first.patient_id, first.treated_on, row_number() over (order by first.patient_id) as place
					from session first
					join session second on second.series_id = first.series_id and second.number = 2
					where first.number = 1 and second.treated_on > first.treated_on + 7
						and first.treated_on between date '2026-01-01' and date '2026-03-30'
					order by first.patient_id limit 6) chosen
				cross join unnest(cast(:regions as text[])) region
				cross join unnest(cast(:types as text[])) type
				where not (place = 1 and region = 'chin' and type = 'keloid')""".formatted(day))
			.param("chin", icePickChin)
			.param("nose", icePickNose)
			.param("boxcar", boxcar)
			.param("regions",
					FaceCount.faceRegions().stream().map(org.seriatim.assessment.Region::word).toArray(String[]::new))
			.param("types",
					FaceCount.scoredTypes()
						.stream()
						.map(org.seriatim.assessment.CountedType::word)
						.toArray(String[]::new))
			.update();
	}

	@Test
	void aSeriesShowsWhatItsNextSessionHasBroughtToOthers() {
		var series = this.database.sql("""
				select advice.series_id from advice join scar on scar.patient_id = advice.patient_id
				where replaced_at is null and scar.type = 'boxcar'
					and (select count(*) from session where session.series_id = advice.series_id) = 1
				order by advice.series_id limit 1""").query(java.util.UUID.class).single();
		var gain = OutcomeFiles.read(this.pages, this.staff, "/outcomes/improvement.csv?table=gain")
			.stream()
			.filter((row) -> row.get("group").equals("boxcar") && row.get("series_session").equals("2"))
			.findFirst()
			.orElseThrow();
		assertThat(this.pages.get().uri("/series/" + series).with(this.staff.as(Role.PRACTITIONER))).hasStatusOk()
			.bodyText()
			.contains("Session 2 of a series: how much less deep")
			.contains("%.1f %% less deep".formatted(Double.parseDouble(gain.get("gain_percent"))))
			.contains("Gain by type and session");
	}

}
