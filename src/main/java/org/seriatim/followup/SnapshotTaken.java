package org.seriatim.followup;

import java.time.LocalDate;

/**
 * The clinic's figures were kept under a new number: what else is computed once a day and
 * after an import may follow, after the transaction, so that nobody who writes waits for
 * it.
 *
 * @param asOf the last day whose records are in it
 */
public record SnapshotTaken(int number, LocalDate asOf) {
}
