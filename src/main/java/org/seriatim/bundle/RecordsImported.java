package org.seriatim.bundle;

import java.time.Instant;

/**
 * A bundle was taken and changed the records. Published once an import, inside its
 * transaction and after all rows are written, so that what must agree with the records
 * can be brought up to date together with them; an exception of a listener undoes the
 * import.
 *
 * @param added rows that were not on record
 * @param changed rows that became a new version
 * @param at when
 */
public record RecordsImported(long added, long changed, Instant at) {
}
