package org.seriatim.record.domain;

import java.math.BigDecimal;
import java.time.LocalDate;

/**
 * One number of one scale of the whole face.
 *
 * @param scale the scale's word; one that is not known is shown by it
 * @param item the item's word
 */
public record GlobalEntry(String scale, String item, LocalDate assessedOn, String assessor, BigDecimal value) {
}
