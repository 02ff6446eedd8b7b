package org.seriatim.finding.domain;

import java.math.BigDecimal;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.FindingId;

/**
 * What was said of one lump at a contact.
 *
 * @param sizeMm largest diameter in millimetres, if measured
 */
public record LumpAnswer(FindingId lump, boolean present, @Nullable BigDecimal sizeMm) {
}
