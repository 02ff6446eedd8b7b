package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

import org.seriatim.assessment.GlobalScale;

/** One number that is entered for the whole face. */
public record ScaleItem(GlobalScale scale, GlobalScale.Item item) {

	/** The item of these words, if the form has it. */
	static Optional<ScaleItem> of(String scale, String item) {
		return GlobalScale.ofWord(scale)
			.flatMap((known) -> known.item(item).map((ofScale) -> new ScaleItem(known, ofScale)));
	}

	/** All of them, in the order of a form. */
	public static List<ScaleItem> all() {
		return Arrays.stream(GlobalScale.values())
			.flatMap((scale) -> scale.items().stream().map((item) -> new ScaleItem(scale, item)))
			.toList();
	}

	/** Whether the value is one of the scale's whole numbers. */
	public boolean admits(BigDecimal value) {
		return value.stripTrailingZeros().scale() <= 0 && value.compareTo(BigDecimal.valueOf(this.item.least())) >= 0
				&& value.compareTo(BigDecimal.valueOf(this.item.largest())) <= 0;
	}

}
