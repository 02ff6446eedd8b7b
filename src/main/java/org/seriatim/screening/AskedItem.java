package org.seriatim.screening;

/**
 * An item as it was asked: what it is called in the records, the version of the list and
 * the words of then.
 */
public record AskedItem(String word, int list, String question) {
}
