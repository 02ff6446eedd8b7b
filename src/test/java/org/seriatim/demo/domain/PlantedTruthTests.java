package org.seriatim.demo.domain;

import java.io.IOException;
import java.io.StringReader;
import java.nio.file.Path;
import java.time.Clock;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.Role;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;
import picocli.CommandLine;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * A clinic in which it is known what is true, because it was made so here: one
 * practitioner at twice the rate of bruises, one lot at three times the lumps, and lumps
 * that last longer in one layer and shorter in another and after radiofrequency. The
 * pages show each within its limits, and as more than chance.
 * <p>
 * Every lump is felt at the end of its session: one that is gone before anybody asks is
 * in no record, and then no figure could show what is true (the page says so).
 * <p>
 * The seed is that of the project's other simulations and was written down before the
 * test ran for the first time. It was not looked for: out of many clinics one can always
 * be found that agrees with anything. Five limits at 95 % hold all at once in about three
 * of four clinics; so that the test says what it means, each is widened to 99 %, which is
 * 95 % for the five (Bonferroni). In this clinic the lot needs it: its 95 % limits are
 * 3.2 to 5.0 times. In 40 other clinics the mean was 3.0.
 */
@PageTest
@OneDatabase
class PlantedTruthTests {

	private static final int PATIENTS = Integer.getInteger("planted.patients", 600);

	private static final long SEED = 20260101;

	private static final double BRUISES = 0.12;

	private static final double BRUISES_OF_ONE = 2;

	private static final double LUMPS_OF_ONE_LOT = 3;

	/** Durations against those in the mid dermis. */
	private static final Map<String, Double> LAYERS = Map.of("superficial_dermis", 2.0, "mid_dermis", 1.0,
			"deep_dermis", 0.6);

	private static final Map<String, Double> COMBINATIONS = Map.of("none", 1.0, "rf_after", 0.5);

	/** The normal quantile for 99 % over that for 95 %. */
	private static final double FIVE_AT_ONCE = 2.5758 / 1.9600;

	@TempDir
	static Path folder;

	@Autowired
	MockMvcTester pages;

	@Autowired
	TestStaff staff;

	@Autowired
	BundleImport records;

	@Autowired
	JdbcClient database;

	@Autowired
	Clock clock;

	@BeforeEach
	void generateAndImportOnce() {
		if (this.database.sql("select count(*) from patient").query(Integer.class).single() > 0) {
			return;
		}
		var bundle = folder.resolve("clinic");
		assertThat(new CommandLine(new GenerateCommand(this.clock)).execute("--patients=" + PATIENTS, "--seed=" + SEED,
				"--usual-courses", "--felt-at-once=1", "--lumps=0.25", "--bruises=" + BRUISES,
				"--bruises-of-one=" + BRUISES_OF_ONE, "--lumps-of-one-lot=" + LUMPS_OF_ONE_LOT,
				"--superficial-lasts=" + LAYERS.get("superficial_dermis"), "--deep-lasts=" + LAYERS.get("deep_dermis"),
				"--combined-lasts=" + COMBINATIONS.get("rf_after"), bundle.toString()))
			.isZero();
		if (this.records.take(bundle, false, ImportProgress.UNWATCHED) instanceof ImportResult.Refused refused) {
			assertThat(refused.problems().first()).isEmpty();
		}
	}

	@Test
	void aPractitionerAtTwiceTheRateOfBruisesIsBeyondChanceAndWithinTheLimits() {
		var planted = rows("/outcomes/complications.csv?kind=bruise&group=practitioner").get(InventedClinic.BRUISING);
		assertCovered(BRUISES_OF_ONE * BRUISES, number(planted, "low"), number(planted, "high"));
		assertThat(BRUISES).isLessThan(number(planted, "low"));
		var funnel = rows("/outcomes/complications.csv?kind=bruise&table=practitioners");
		assertThat(funnel.get(InventedClinic.BRUISING).get("place")).isEqualTo("above_998");
		var code = this.database.sql("select figure_code from staff where name = :name")
			.param("name", InventedClinic.BRUISING)
			.query(String.class)
			.single();
		assertThat(page("/outcomes/complications?kind=bruise"))
			.contains(code + ": more sessions with the finding Bruise than the 99.8 % limits of chance")
			.doesNotContain(InventedClinic.BRUISING);
	}

	/**
	 * A share of sessions with at least one lump is turned into lumps of a session, -ln(1
	 * - share), which is what was made three times as large.
	 */
	@Test
	void aLotAtThreeTimesTheLumpsIsBeyondChanceAndWithinTheLimits() {
		var lots = rows("/outcomes/complications.csv?kind=lump&group=lot");
		var planted = lots.remove(InventedClinic.LUMPY_LOT);
		double others = lumps(lots.values().stream().mapToDouble((lot) -> number(lot, "sessions_with_finding")).sum()
				/ lots.values().stream().mapToDouble((lot) -> number(lot, "sessions")).sum());
		assertCovered(LUMPS_OF_ONE_LOT, lumps(number(planted, "low")) / others,
				lumps(number(planted, "high")) / others);
		assertThat(lumps(number(planted, "low")) / others).isGreaterThan(1);
		assertThat(rows("/outcomes/complications.csv?kind=lump&table=lots").get(InventedClinic.LUMPY_LOT).get("place"))
			.isEqualTo("above_998");
		assertThat(page("/outcomes/complications?kind=lump")).contains(
				InventedClinic.LUMPY_LOT + ": more sessions with the finding Lump than the 99.8 % limits of chance");
	}

	@Test
	void whatMakesLumpsLastIsInTheForestPlotWithinItsLimits() {
		var effects = rows("/outcomes/lump-effects.csv", (row) -> row.get("factor") + "." + row.get("level"));
		var layers = effects.values().stream().filter((row) -> row.get("factor").equals("layer")).toList();
		assertThat(layers).hasSize(2).allSatisfy((row) -> assertShows(row, LAYERS));
		var combination = effects.values()
			.stream()
			.filter((row) -> row.get("factor").equals("combination") && COMBINATIONS.containsKey(row.get("level")))
			.toList();
		assertThat(combination).singleElement().satisfies((row) -> assertShows(row, COMBINATIONS));
		var page = page("/outcomes/lumps");
		layers.forEach((row) -> assertThat(page).contains(row.get("reading")));
		combination.forEach((row) -> assertThat(page).contains(row.get("reading")));
	}

	private static void assertShows(CSVRecord row, Map<String, Double> planted) {
		double ratio = planted.get(row.get("level")) / planted.get(row.get("reference"));
		assertCovered(ratio, number(row, "ratio_low"), number(row, "ratio_high"));
		assertThat(number(row, "ratio_low") > 1 || number(row, "ratio_high") < 1).as("%s is told from none", row)
			.isTrue();
	}

	/** Within the limits, widened on the scale of logarithms. */
	private static void assertCovered(double truth, double low, double high) {
		double middle = Math.log(low * high) / 2;
		assertThat(Math.abs(Math.log(truth) - middle)).as("%s between %s and %s", truth, low, high)
			.isLessThan(FIVE_AT_ONCE * Math.log(high / low) / 2);
	}

	private static double lumps(double share) {
		return -Math.log1p(-share);
	}

	private static double number(CSVRecord row, String column) {
		return Double.parseDouble(row.get(column));
	}

	private Map<String, CSVRecord> rows(String address) {
		return rows(address, (row) -> row.get("group"));
	}

	private Map<String, CSVRecord> rows(String address, Function<CSVRecord, String> key) {
		try (var parsed = CSVFormat.RFC4180.builder()
			.setHeader()
			.setSkipHeaderRecord(true)
			.get()
			.parse(new StringReader(page(address)))) {
			return parsed.getRecords().stream().collect(Collectors.toMap(key, (row) -> row));
		}
		catch (IOException ex) {
			throw new AssertionError(ex);
		}
	}

	private String page(String address) {
		var answer = this.pages.get().uri(address).with(this.staff.as(Role.CLINIC_LEAD)).exchange();
		assertThat(answer).hasStatusOk();
		try {
			return answer.getResponse().getContentAsString();
		}
		catch (IOException ex) {
			throw new AssertionError(ex);
		}
	}

}
