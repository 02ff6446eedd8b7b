package org.seriatim.assessment.web;

import java.math.BigDecimal;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.domain.Dated;
import org.seriatim.assessment.domain.ScaleItem;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;

/**
 * What the form of a visit shows beside one number of a scale.
 *
 * @param key scale and item, the end of the message key of its label
 * @param options the levels of a scale whose levels have names; empty for one that is a
 * number
 * @param lastValue the last value, an option's where there are any
 */
record ScaleLine(String key, String scale, int least, int largest, List<Choice> options, @Nullable String lastValue,
		@Nullable String lastOn) {

	static ScaleLine of(ScaleItem item, @Nullable Dated<BigDecimal> earlier) {
		var scale = item.scale();
		return new ScaleLine(ScaleRow.key(item), scale.word(), item.item().least(), item.item().largest(),
				options(item), (earlier != null) ? earlier.value().stripTrailingZeros().toPlainString() : null,
				(earlier != null) ? Written.day(earlier.day()) : null);
	}

	/** The message key of the last value, where its levels have names. */
	public @Nullable String lastLevel() {
		return (this.lastValue != null
				&& this.options.stream().anyMatch((choice) -> choice.value().equals(this.lastValue)))
						? "scale." + this.scale + ".level." + this.lastValue : null;
	}

	private static List<Choice> options(ScaleItem item) {
		return switch (item.scale()) {
			case GAIS, GOODMAN_BARON_QUALITATIVE, SCAR_S ->
				Choice.ofGrades("scale." + item.scale().word() + ".level", item.item().least(), item.item().largest());
			case GOODMAN_BARON_QUANTITATIVE, SATISFACTION -> List.of();
		};
	}

}
