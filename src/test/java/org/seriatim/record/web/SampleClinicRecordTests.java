package org.seriatim.record.web;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import org.seriatim.access.Role;
import org.seriatim.assessment.Repeatability;
import org.seriatim.assessment.ScarChange;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.seriatim.followup.MeasurementError;
import org.seriatim.record.domain.SeriesFigures;
import org.seriatim.record.domain.SeriesRecords;
import org.seriatim.support.Expected;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SeriesId;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

/**
 * The pages of an invented clinic whose figures a program apart from this one computed.
 */
@PageTest
@OneDatabase
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class SampleClinicRecordTests {

	@Autowired
	private BundleImport bundles;

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@Autowired
	private JdbcClient database;

	@Autowired
	private SeriesRecords records;

	@Autowired
	private MeasurementError error;

	@BeforeAll
	void importTheSampleClinic() {
		assertThat(this.bundles.take(Path.of("src/test/resources/sample-clinic"), false, ImportProgress.UNWATCHED))
			.isInstanceOf(ImportResult.Taken.class);
	}

	private List<UUID> ids(String table) {
		return this.database.sql("select id from " + table + " order by id").query(UUID.class).list();
	}

	@Test
	void showsEverySeriesWithTheExpectedStatusOfItsAdvice() {
		var words = Map.of("HOLD", "On hold", "WAIT_FOR_CONTACT", "Contact first", "REVIEW_PLAN",
				"Practitioner reviews the plan", "WINDOW", "Book within the window");
		var expected = new HashMap<UUID, String>();
		Expected.advice()
			.forEach((row) -> expected.put(this.database.sql("""
					select s.series_id from session s join patient p on p.id = s.patient_id
					where p.record_number = :record and s.number = :session""")
				.param("record", row.get("record_number"))
				.param("session", row.get("session"))
				.query(UUID.class)
				.single(), words.get(row.get("status").toString())));
		var reader = this.staff.as(Role.PRACTITIONER);

		assertThat(expected).hasSize(138);
		assertThat(ids("series")).hasSize(190)
			.allSatisfy((series) -> assertThat(this.pages.get().uri("/series/" + series).with(reader)).hasStatusOk()
				.bodyText()
				.contains(expected.getOrDefault(series, "An ended series gets no treatment advice")));
	}

	@Test
	void showsEveryPatientToTheFrontDesk() {
		var reader = this.staff.as(Role.FRONT_DESK);
		assertThat(ids("patient")).hasSize(200)
			.allSatisfy(
					(patient) -> assertThat(this.pages.get().uri("/patients/" + patient).with(reader)).hasStatusOk());
	}

	/**
	 * The improvement of every scar at every stage, added up over the clinic, is the
	 * expected one.
	 */
	@Test
	void computesTheExpectedImprovementOfEveryScar() {
		var percents = new TreeMap<String, List<Double>>();
		var patients = new TreeMap<String, HashSet<Object>>();
		for (var id : ids("series")) {
			var record = this.records.open(new SeriesId(id)).orElseThrow();
			for (var scar : SeriesFigures.of(record, null).scars()) {
				for (int stage = 1; stage < scar.states().size(); stage++) {
					if (scar.changeTo(stage).orElse(null) instanceof ScarChange.InDepth change) {
						var key = scar.scar().type().word() + " " + stage;
						percents.computeIfAbsent(key, (ignored) -> new ArrayList<>()).add(change.percent());
						patients.computeIfAbsent(key, (ignored) -> new HashSet<>()).add(record.patient().id());
					}
				}
			}
		}
		assertThat(Expected.figures("improvement")).hasSizeGreaterThan(10).allSatisfy((row) -> {
			var key = row.get("type").asString() + " " + row.get("stage").asInt();
			assertThat(percents).containsKey(key);
			assertThat(percents.get(key)).as("scars, %s", key).hasSize(row.get("scars").asInt());
			assertThat(patients.get(key)).as("patients, %s", key).hasSize(row.get("patients").asInt());
			assertThat(percents.get(key).stream().mapToDouble(Double::doubleValue).average().orElseThrow())
				.as("mean, %s", key)
				.isCloseTo(row.get("mean").asDouble(), within(1e-9));
		});
	}

	@Test
	void judgesChangesByTheExpectedMeasurementError() {
		var between = Expected.figures("repeatability")
			.stream()
			.filter((row) -> row.get("raters").asString().equals("between"))
			.findFirst()
			.orElseThrow();

		assertThat(this.error.current()).get().isInstanceOfSatisfying(Repeatability.Known.class, (known) -> {
			assertThat(known.raters()).isEqualTo(Repeatability.Raters.BETWEEN);
			assertThat(known.smallestDetectableChange()).isCloseTo(between.get("sdc_log").asDouble(), within(1e-9));
		});
	}

}
