package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Stream;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

import org.seriatim.finding.LumpCurve;
import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceWordingTests;
import org.seriatim.followup.Reason;
import org.seriatim.followup.Remark;
import org.seriatim.support.Expected;
import org.seriatim.support.SampleClinic;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * The advice for every open series of the sample clinic on 2026-11-20, against the advice
 * that a program written apart from this one computed from the same definitions.
 */
class SampleClinicAdviceTests {

	private static final LocalDate DAY = LocalDate.of(2026, 11, 20);

	private static Map<String, Advice> computed;

	private static final List<Map<String, Object>> EXPECTED = Expected.advice();

	@BeforeAll
	static void adviseOnEveryOpenSeries() {
		var clinic = SampleClinic.read();
		var curve = LumpCurve.of(clinic.lumps(DAY));
		var ratings = clinic.ratings(DAY);
		computed = new LinkedHashMap<>();
		for (var series : clinic.series()) {
			IntervalAdvice.advise(series.facts().asOf(DAY), ProtocolFixture.firstProtocol(), curve, ratings)
				.ifPresent((advice) -> computed.put(series.recordNumber(), advice));
		}
	}

	@Test
	void advisesOnTheSameSeries() {
		assertThat(EXPECTED).hasSize(138);
		assertThat(computed.keySet())
			.containsExactlyElementsOf(EXPECTED.stream().map((row) -> (String) row.get("record_number")).toList());
	}

	@Test
	void givesEveryExpectedAdvice() {
		assertThat(computed.entrySet().stream().map((entry) -> row(entry.getKey(), entry.getValue())))
			.containsExactlyElementsOf(EXPECTED);
	}

	@Test
	void keepsEveryAdviceThroughItsStoredForm() {
		assertThat(computed.values()).isNotEmpty()
			.allSatisfy(
					(advice) -> assertThat(AdviceJson.read(AdviceJson.write(advice), Advice.class)).isEqualTo(advice));
	}

	@Test
	void writesEverySentence() {
		var wording = AdviceWordingTests.wording();
		assertThat(computed.values()).allSatisfy((advice) -> {
			var sentences = Stream
				.of(advice.reasons().stream().map(Reason::sentence),
						advice.techniqueNotes().stream().map(Remark::sentence),
						advice.cautionsOn(LocalDate.of(2030, 1, 1)).stream().map(Remark::sentence))
				.flatMap(Function.identity());
			assertThat(sentences.map(wording::of))
				.allSatisfy((sentence) -> assertThat(sentence).isNotBlank().doesNotContain("{", "null"));
			var evidence = Stream
				.concat(advice.reasons().stream().map(Reason::evidence),
						advice.cautions().stream().map(Remark::evidence))
				.flatMap(List::stream);
			assertThat(evidence.map(wording::of)).allSatisfy((name) -> assertThat(name).isNotBlank());
		});
	}

	static Map<String, Object> row(String recordNumber, Advice advice) {
		var row = new LinkedHashMap<String, Object>();
		row.put("record_number", recordNumber);
		row.put("session", advice.sessionNumber());
		row.put("treated_on", advice.treatedOn().toString());
		row.put("status", advice.status().name());
		row.put("rules", advice.ruleWords());
		row.put("first", text(advice.first()));
		row.put("last", text(advice.last()));
		row.put("first_if_lump_persisted", text(advice.firstIfLumpPersisted()));
		return row;
	}

	private static String text(LocalDate day) {
		return (day != null) ? day.toString() : null;
	}

}
