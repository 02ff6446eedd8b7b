package org.seriatim.bundle;

/**
 * A rule about several rows, of the bundle or on record, as a query for the rows of the
 * bundle that break it.
 * <p>
 * The query sees what {@link BundleSection} describes and gives two columns: {@code line}
 * of the row to which the breach is attributed, never null, and {@code found}, what was
 * found there as text.
 *
 * @param file the file of the rows to which a breach is attributed
 * @param column the column to which it is attributed
 * @param expected what is expected, in plain words
 * @param breaches the query
 */
public record BundleCheck(String file, String column, String expected, String breaches) {
}
