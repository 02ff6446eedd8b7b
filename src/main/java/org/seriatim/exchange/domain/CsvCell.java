package org.seriatim.exchange.domain;

/**
 * The text of a cell, or, when its bytes are not UTF-8, its text with replacement
 * characters in their place.
 */
record CsvCell(String text, boolean malformed) {
}
