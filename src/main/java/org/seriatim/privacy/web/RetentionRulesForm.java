package org.seriatim.privacy.web;

import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Decimal;

/** Months by kind; empty keeps the kind without end. */
record RetentionRulesForm(@Decimal(min = "1", max = "1200") @Nullable String recordMonths,
		@Decimal(min = "1", max = "1200") @Nullable String draftMonths,
		@Decimal(min = "1", max = "1200") @Nullable String adviceMonths) {
}
