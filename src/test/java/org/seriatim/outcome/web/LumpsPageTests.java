package org.seriatim.outcome.web;

import java.io.IOException;
import java.io.StringReader;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import org.seriatim.access.Role;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.support.Expected;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

/**
 * The sample clinic's lumps, against figures that a program written apart from this one
 * computed (expected.json, R and Python).
 */
@PageTest
@OneDatabase
class LumpsPageTests {

	private static final double WITHIN = 1e-4;

	private static final int[] DAYS = { 3, 7, 14, 28 };

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
		if (this.database.sql("select count(*) from patient").query(Integer.class).single() == 0) {
			this.records.take(Path.of("src/test/resources/sample-clinic"), false, ImportProgress.UNWATCHED);
		}
	}

	static Stream<String> groupings() {
		return Expected.figures("lumps").stream().map((row) -> row.get("group").asString()).distinct();
	}

	@ParameterizedTest
	@MethodSource("groupings")
	void countsMediansAndSharesAgree(String grouping) {
		var expected = expected(grouping);
		var rows = csv("/outcomes/lumps.csv?group=" + grouping);
		assertThat(rows).extracting((row) -> row.get("group")).containsExactlyInAnyOrderElementsOf(expected.keySet());
		for (CSVRecord row : rows) {
			var figures = expected.get(row.get("group"));
			assertThat(row.get("lumps")).isEqualTo(figures.get("lumps").asString());
			assertThat(row.get("patients")).isEqualTo(figures.get("patients").asString());
			assertThat(row.get("right_censored")).isEqualTo(figures.get("right_censored").asString());
			assertThat(row.get("recurrent")).isEqualTo(figures.get("recurrent").asString());
			assertSame(row.get("median_left_day"), figures.get("median").get(0));
			assertSame(row.get("median_right_day"), figures.get("median").get(1));
			for (int index = 0; index < DAYS.length; index++) {
				var share = figures.get("present").get(index);
				assertSame(row.get("present_" + DAYS[index] + "_low"), share.get(0));
				assertSame(row.get("present_" + DAYS[index] + "_high"), share.get(1));
			}
		}
	}

	@ParameterizedTest
	@MethodSource("groupings")
	void massesOfEveryCurveAgree(String grouping) {
		var masses = new HashMap<String, Map<String, Double>>();
		for (CSVRecord row : csv("/outcomes/lump-curve.csv?group=" + grouping)) {
			masses.computeIfAbsent(row.get("group"), (group) -> new HashMap<>())
				.put(row.get("left_day") + ";" + row.get("right_day"), Double.valueOf(row.get("mass")));
		}
		expected(grouping).forEach((group, figures) -> {
			var ours = new HashMap<>(masses.getOrDefault(group, Map.of()));
			for (JsonNode mass : figures.get("curve")) {
				var interval = mass.get(0).asInt() + ";" + (mass.get(1).isNull() ? "" : mass.get(1).asInt());
				assertThat(ours.getOrDefault(interval, 0.0)).as("%s in %s", group, interval)
					.isCloseTo(mass.get(2).asDouble(), within(WITHIN));
				ours.remove(interval);
			}
			assertThat(ours.values()).as("masses of %s that are not expected", group)
				.allSatisfy((mass) -> assertThat(mass).isCloseTo(0, within(WITHIN)));
		});
	}

	@Test
	void pageShowsTheSameFiguresInWordsWithWhatTheyRestOn() {
		var all = expected("none").get("all");
		assertThat(this.pages.get().uri("/outcomes/lumps").with(this.staff.as(Role.CLINIC_LEAD))).hasStatusOk()
			.bodyText()
			.contains("6 to 7")
			.contains(all.get("lumps").asInt() + " lumps in " + all.get("patients").asInt() + " patients; "
					+ all.get("right_censored").asInt() + " never seen gone")
			.contains("44 %")
			.contains("short ones are under-counted")
			.doesNotContain("No lump on record for this question");
	}

	@Test
	void limitsThePeriodByTheDayOfTheSession() {
		var all = csv("/outcomes/lumps.csv?group=none");
		var early = csv("/outcomes/lumps.csv?group=none&to=2026-03-31");
		var late = csv("/outcomes/lumps.csv?group=none&from=2026-04-01");
		assertThat(lumps(early) + lumps(late)).isEqualTo(lumps(all));
		assertThat(lumps(early)).isPositive();
		assertThat(lumps(late)).isPositive();
	}

	@Test
	void saysWhatToDoWhenThereIsNoLump() {
		assertThat(this.pages.get().uri("/outcomes/lumps?from=2099-01-01").with(this.staff.as(Role.PRACTITIONER)))
			.hasStatusOk()
			.bodyText()
			.contains("No lump on record for this question");
		assertThat(csv("/outcomes/lumps.csv?from=2099-01-01")).isEmpty();
	}

	@Test
	void refusesAnUnknownGroupingOrDay() {
		assertThat(this.pages.get().uri("/outcomes/lumps?group=weekday").with(this.staff.as(Role.PRACTITIONER)))
			.hasStatus(HttpStatus.BAD_REQUEST);
		assertThat(this.pages.get().uri("/outcomes/lumps.csv?from=yesterday").with(this.staff.as(Role.PRACTITIONER)))
			.hasStatus(HttpStatus.BAD_REQUEST);
	}

	private static Map<String, JsonNode> expected(String grouping) {
		var expected = new HashMap<String, JsonNode>();
		Expected.figures("lumps")
			.stream()
			.filter((row) -> row.get("group").asString().equals(grouping))
			.forEach((row) -> expected.put(row.get("value").asString(), row));
		return expected;
	}

	private static void assertSame(String cell, JsonNode expected) {
		if (expected.isNull()) {
			assertThat(cell).isEmpty();
		}
		else {
			assertThat(Double.parseDouble(cell)).isCloseTo(expected.asDouble(), within(WITHIN));
		}
	}

	private static int lumps(List<CSVRecord> rows) {
		return rows.stream().mapToInt((row) -> Integer.parseInt(row.get("lumps"))).sum();
	}

	private List<CSVRecord> csv(String address) {
		var answer = this.pages.get().uri(address).with(this.staff.as(Role.CLINIC_LEAD)).exchange();
		assertThat(answer).hasStatusOk().hasContentTypeCompatibleWith("text/csv");
		try (var parsed = CSVFormat.RFC4180.builder()
			.setHeader()
			.setSkipHeaderRecord(true)
			.get()
			.parse(new StringReader(answer.getResponse().getContentAsString()))) {
			return new ArrayList<>(parsed.getRecords());
		}
		catch (IOException ex) {
			throw new AssertionError(ex);
		}
	}

}
