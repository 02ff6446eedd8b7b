package org.seriatim.followup;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.context.support.ResourceBundleMessageSource;

import org.seriatim.assessment.Region;

import static org.assertj.core.api.Assertions.assertThat;

public class AdviceWordingTests {

	private final AdviceWording wording = wording();

	public static AdviceWording wording() {
		var messages = new ResourceBundleMessageSource();
		messages.setBasenames("messages/followup", "messages/words");
		messages.setDefaultEncoding("UTF-8");
		return new AdviceWording(messages);
	}

	@ParameterizedTest
	@EnumSource
	void hasAWordForEveryRule(Rule rule) {
		assertThat(this.wording.of(rule)).isNotBlank();
	}

	@ParameterizedTest
	@EnumSource
	void saysWhatToDoForEveryStatus(AdviceStatus status) {
		assertThat(this.wording.of(status)).isNotBlank();
		assertThat(this.wording.brief(status)).isNotBlank();
	}

	@Test
	void callsEveryKindOfRecordByName() {
		assertThat(Arrays.stream(Evidence.Kind.values())
			.map((kind) -> new Evidence(kind, null, List.of(Argument.text("A")), null))
			.map(this.wording::of)).allSatisfy((name) -> assertThat(name).contains("A"));
		assertThat(this.wording.of(Evidence.of(Region.CHEEK_MEDIAL_LEFT))).isEqualTo("Left medial cheek");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|',
			textBlock = """
					1 | A lump of this session lasted beyond day 14, still present on day 20: the interval is 56 days.
					3 | 3 lumps of this session lasted beyond day 14, the longest still present on day 20: the interval is 56 days.
					""")
	void writesOneAndMany(int lumps, String sentence) {
		assertThat(this.wording.of(Sentence.of("followup.rule.persistent", Argument.number(lumps), Argument.number(14),
				Argument.number(20), Argument.number(56))))
			.isEqualTo(sentence);
	}

	@Test
	void writesDaysProbabilitiesAndApostrophes() {
		assertThat(this.wording
			.of(Sentence.of("followup.rule.still-there.until", Argument.number(20), Argument.number(0.9),
					Argument.number(50), Argument.number(14), Argument.day(LocalDate.of(2026, 12, 21)))))
			.isEqualTo(
					"A lump was still there on day 20: ask again first. On this clinic's own curve such a lump has gone "
							+ "by day 50 with a probability of at least 90%; with 14 days to settle that is 21 Dec 2026.");
	}

	@Test
	void writesWords() {
		assertThat(this.wording.of(Sentence.of("followup.technique.deeper", Argument.number(1),
				Argument.word("layer", "superficial_dermis"), Argument.word("layer", "mid_dermis"))))
			.isEqualTo("A lump that lasted followed injection into the superficial dermis: "
					+ "consider the mid dermis and less per point.");
	}

}
