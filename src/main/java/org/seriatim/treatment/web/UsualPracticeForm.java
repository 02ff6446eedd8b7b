package org.seriatim.treatment.web;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Objects;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.RowKey;
import org.seriatim.shell.ShownVersion;
import org.seriatim.treatment.domain.UsualMeasure;
import org.seriatim.treatment.domain.UsualPractice;
import org.seriatim.treatment.domain.UsualPractice.Range;
import org.seriatim.treatment.domain.UsualTopic;
import org.springframework.validation.BindingResult;

/**
 * The clinic's usual practice as it is typed: a row for each measure and for each topic,
 * empty where the clinic has no range and no note.
 *
 * @param basedOn number of the version that the form started from
 * @param reason why it is published
 */
record UsualPracticeForm(@ShownVersion @NotNull @Nullable Integer basedOn, @Valid List<@Valid RangeRow> ranges,
		@Valid List<@Valid NoteRow> notes, @NotBlank @Size(max = 400) @Nullable String reason) {

	UsualPracticeForm {
		// what a request leaves out is a row in which nothing is typed
		var typedRanges = Objects.requireNonNullElse(ranges, List.<RangeRow>of());
		ranges = Arrays.stream(UsualMeasure.values())
			.map((measure) -> typedRanges.stream()
				.filter((row) -> row != null && row.measure() == measure)
				.findFirst()
				.orElse(new RangeRow(measure, null, null)))
			.toList();
		var typedNotes = Objects.requireNonNullElse(notes, List.<NoteRow>of());
		notes = Arrays.stream(UsualTopic.values())
			.map((topic) -> typedNotes.stream()
				.filter((row) -> row != null && row.topic() == topic)
				.findFirst()
				.orElse(new NoteRow(topic, null)))
			.toList();
	}

	/** A range; both ends empty for none. */
	record RangeRow(@RowKey @Nullable UsualMeasure measure,
			@Decimal(min = "0", max = "1000", fraction = 3) @Nullable String low,
			@Decimal(min = "0", max = "1000", fraction = 3) @Nullable String high) {

		private boolean isEmpty() {
			return DecimalText.value(this.low) == null && DecimalText.value(this.high) == null;
		}

		private boolean isReversed() {
			BigDecimal least = DecimalText.value(this.low);
			BigDecimal most = DecimalText.value(this.high);
			return least != null && most != null && least.compareTo(most) > 0;
		}

		private Range range() {
			return new Range(DecimalText.value(this.low), DecimalText.value(this.high));
		}

	}

	/** A note; empty for none. */
	record NoteRow(@RowKey @Nullable UsualTopic topic, @Size(max = 400) @Nullable String note) {
	}

	static UsualPracticeForm from(UsualPractice practice) {
		return new UsualPracticeForm(practice.number(),
				practice.ranges()
					.entrySet()
					.stream()
					.map((one) -> new RangeRow(one.getKey(), DecimalText.of(one.getValue().low()),
							DecimalText.of(one.getValue().high())))
					.toList(),
				practice.notes().entrySet().stream().map((one) -> new NoteRow(one.getKey(), one.getValue())).toList(),
				null);
	}

	void rejectReversed(BindingResult errors) {
		for (int i = 0; i < this.ranges.size(); i++) {
			if (this.ranges.get(i).isReversed()) {
				errors.rejectValue("ranges[" + i + "].high", "treatment.usual.reversed");
			}
		}
	}

	/** What a form without faults describes. */
	UsualPractice toPractice() {
		var ends = new EnumMap<UsualMeasure, Range>(UsualMeasure.class);
		for (var row : this.ranges) {
			if (!row.isEmpty()) {
				ends.put(Objects.requireNonNull(row.measure()), row.range());
			}
		}
		var words = new EnumMap<UsualTopic, String>(UsualTopic.class);
		for (var row : this.notes) {
			if (row.note() != null && !row.note().isBlank()) {
				words.put(Objects.requireNonNull(row.topic()), row.note().strip());
			}
		}
		return new UsualPractice(Objects.requireNonNull(this.basedOn), ends, words);
	}

}
