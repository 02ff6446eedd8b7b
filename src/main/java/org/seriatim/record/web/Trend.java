package org.seriatim.record.web;

import java.util.List;
import java.util.Objects;
import java.util.function.DoubleFunction;

import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Sparkline;

/**
 * A course over the stages of a series.
 *
 * @param words the values in words
 */
record Trend(Sparkline line, String words) {

	/**
	 * The course of these values.
	 * @param values by stage, {@code null} where there is none
	 * @param most value at the upper edge; the largest of the values if {@code null}
	 * @param written how a value is written
	 * @return {@code null} with fewer than two values
	 */
	static @Nullable Trend of(List<@Nullable Double> values, @Nullable Double most, DoubleFunction<String> written,
			Texts texts) {
		if (values.stream().filter(Objects::nonNull).count() < 2) {
			return null;
		}
		var words = values.stream()
			.map((value) -> (value != null) ? written.apply(value) : texts.say("record.trend.gap"))
			.toList();
		return new Trend((most != null) ? Sparkline.of(values, most) : Sparkline.of(values),
				texts.say("record.trend", String.join(", ", words)));
	}

}
