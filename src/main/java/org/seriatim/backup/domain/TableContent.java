package org.seriatim.backup.domain;

/**
 * What a table holds.
 *
 * @param rows how many
 * @param sha256 of its rows in the text format of PostgreSQL's COPY, with a first line of
 * column names, in the order of its primary key
 */
record TableContent(long rows, String sha256) {
}
