package org.seriatim.finding;

import java.time.LocalDate;
import java.util.List;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;

import org.seriatim.statistics.Bounds;
import org.seriatim.statistics.Mass;
import org.seriatim.support.Expected;
import org.seriatim.support.SampleClinic;
import org.seriatim.treatment.Layer;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

/**
 * Lump durations of the sample clinic: over all lumps, by region and by layer, against
 * figures that another program computed.
 */
class SampleClinicLumpTests {

	private static final SampleClinic CLINIC = SampleClinic.read();

	private static final List<LumpCurve.OfPatient> LUMPS = CLINIC.lumps(LocalDate.of(2026, 11, 20));

	/** Stated for the masses and shares of the expected figures. */
	private static final double CLOSE = 1e-4;

	static Stream<JsonNode> groups() {
		return Expected.figures("lumps")
			.stream()
			.filter((row) -> List.of("none", "region", "layer").contains(row.get("group").asString()));
	}

	@ParameterizedTest
	@MethodSource("groups")
	void meetsTheExpectedCurve(JsonNode expected) {
		var lumps = LUMPS.stream()
			.filter((lump) -> group(lump, expected).equals(expected.get("value").asString()))
			.toList();
		var curve = LumpCurve.of(lumps);

		assertThat(curve.lumps()).isEqualTo(expected.get("lumps").asInt());
		assertThat(curve.patients()).isEqualTo(expected.get("patients").asInt());
		assertThat(lumps.stream().filter((lump) -> !lump.duration().isSeenGone()))
			.hasSize(expected.get("right_censored").asInt());
		assertThat(lumps.stream().filter((lump) -> lump.duration().recurrent()))
			.hasSize(expected.get("recurrent").asInt());
		assertThat(curve.curve().median())
			.isEqualTo(new Bounds(expected.get("median").get(0).asDouble(), expected.get("median").get(1).asDouble()));
		var days = List.of(3, 7, 14, 28);
		for (int i = 0; i < days.size(); i++) {
			var present = curve.curve().stillPresent(days.get(i));
			assertThat(present.low()).isCloseTo(expected.get("present").get(i).get(0).asDouble(), within(CLOSE));
			assertThat(present.high()).isCloseTo(expected.get("present").get(i).get(1).asDouble(), within(CLOSE));
		}
		var masses = curve.curve().masses().stream().filter((mass) -> mass.mass() > CLOSE).toList();
		assertThat(masses).hasSize(expected.get("curve").size());
		for (int i = 0; i < masses.size(); i++) {
			assertSame(masses.get(i), expected.get("curve").get(i));
		}
	}

	private static String group(LumpCurve.OfPatient lump, JsonNode expected) {
		var finding = lump.duration().lump();
		return switch (expected.get("group").asString()) {
			case "region" -> finding.region().word();
			case "layer" -> LumpLayer.of(finding, CLINIC.injections(finding)).map(Layer::word).orElse("unknown");
			default -> "all";
		};
	}

	private static void assertSame(Mass actual, JsonNode expected) {
		assertThat(actual.left()).isEqualTo(expected.get(0).asDouble());
		assertThat(actual.right())
			.isEqualTo(expected.get(1).isNull() ? Double.POSITIVE_INFINITY : expected.get(1).asDouble());
		assertThat(actual.mass()).isCloseTo(expected.get(2).asDouble(), within(CLOSE));
	}

	@Test
	void restsOnNothingWithoutLumps() {
		var curve = LumpCurve.of(List.of());

		assertThat(curve.lumps()).isZero();
		assertThat(curve.curve().masses()).isEmpty();
	}

}
