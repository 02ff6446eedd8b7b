package org.seriatim.assessment.web;

import java.math.BigDecimal;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.domain.ScaleItem;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.RowKey;

/**
 * One number of a scale of the whole face in the form of a visit. Its range is the
 * scale's.
 *
 * @param item scale and item, as {@link #key} writes them
 */
record ScaleRow(@RowKey @Nullable String item, @Nullable String value) {

	static ScaleRow of(ScaleItem item, @Nullable BigDecimal value) {
		return new ScaleRow(key(item), (value != null) ? value.stripTrailingZeros().toPlainString() : null);
	}

	static String key(ScaleItem item) {
		return item.scale().word() + "." + item.item().word();
	}

	/**
	 * What was typed as a number, or {@code null} where it is none.
	 */
	@Nullable BigDecimal number() {
		try {
			return DecimalText.value(this.value);
		}
		catch (IllegalArgumentException ex) {
			return null;
		}
	}

}
