package org.seriatim.assessment;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;

import org.seriatim.patient.PatientId;
import org.seriatim.statistics.Detectability;
import org.seriatim.support.Expected;
import org.seriatim.support.SampleClinic;
import org.seriatim.treatment.SessionFacts;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

/**
 * Stages, improvement and repeatability of the sample clinic against figures that another
 * program computed.
 */
class SampleClinicImprovementTests {

	private static final SampleClinic CLINIC = SampleClinic.read();

	private record Row(ScarType type, int stage) {
	}

	private static final Map<Row, List<Double>> PERCENT = new HashMap<>();

	private static final Map<Row, Set<PatientId>> PATIENTS = new HashMap<>();

	@BeforeAll
	static void compareEveryStageWithItsBaseline() {
		for (var series : CLINIC.series()) {
			var facts = series.facts();
			var stages = new SeriesStages(facts.ofSeries().stream().map(SessionFacts::treatedOn).toList(),
					facts.nextSeriesOn().orElse(null));
			for (var scar : facts.scars()) {
				for (int stage = 1; stage <= stages.last(); stage++) {
					var baseline = stages.state(scar, 0);
					var later = stages.state(scar, stage);
					if (baseline.isPresent() && later.isPresent()) {
						var row = new Row(scar.type(), stage);
						ScarChange.between(scar.type(), baseline.get(), later.get())
							.filter(ScarChange.InDepth.class::isInstance)
							.map(ScarChange.InDepth.class::cast)
							.ifPresent((change) -> {
								PERCENT.computeIfAbsent(row, (key) -> new ArrayList<>()).add(change.percent());
								PATIENTS.computeIfAbsent(row, (key) -> new HashSet<>()).add(series.patient());
							});
					}
				}
			}
		}
	}

	static Stream<JsonNode> improvements() {
		return Expected.figures("improvement").stream();
	}

	@ParameterizedTest
	@MethodSource("improvements")
	void meetsTheExpectedImprovement(JsonNode expected) {
		var row = new Row(ScarType.valueOf(expected.get("type").asString().toUpperCase()),
				expected.get("stage").asInt());

		assertThat(PERCENT.get(row)).hasSize(expected.get("scars").asInt());
		assertThat(PATIENTS.get(row)).hasSize(expected.get("patients").asInt());
		assertThat(PERCENT.get(row).stream().mapToDouble(Double::doubleValue).average().orElseThrow())
			.isCloseTo(expected.get("mean").asDouble(), within(1e-9));
	}

	static Stream<JsonNode> repeatabilities() {
		return Expected.figures("repeatability").stream();
	}

	@ParameterizedTest
	@MethodSource("repeatabilities")
	void meetsTheExpectedRepeatability(JsonNode expected) {
		var ratings = CLINIC.ratings(LocalDate.of(2026, 11, 20));
		var judged = Objects
			.requireNonNull(expected.get("raters").asString().equals("between") ? ratings.between() : ratings.within());

		assertThat(judged.pairs()).isEqualTo(expected.get("pairs").asInt());
		assertThat(judged.patients()).isEqualTo(expected.get("patients").asInt());
		assertThat(judged.standardError()).isCloseTo(expected.get("sem_log").asDouble(), within(1e-9));
		assertThat(judged.smallestChange()).isCloseTo(expected.get("sdc_log").asDouble(), within(1e-9));
	}

	@Test
	void prefersTheErrorBetweenAssessors() {
		assertThat(CLINIC.ratings(LocalDate.of(2026, 11, 20)).repeatability(10, 5))
			.isInstanceOfSatisfying(Repeatability.Known.class, (known) -> {
				assertThat(known.raters()).isEqualTo(Repeatability.Raters.BETWEEN);
				assertThat(known.error()).extracting(Detectability.Known::pairs).isEqualTo(114);
			});
	}

}
