package org.seriatim.exchange;

import org.jspecify.annotations.Nullable;

/**
 * Something in a bundle that keeps it from being taken. What was found is text of the
 * bundle and may be about a patient: it goes to the person who brought the bundle and
 * into no log.
 *
 * @param file the file
 * @param line the physical line, from 1; none when it concerns the file as a whole
 * @param columnNumber the place of the column in the file, from 1; none when it concerns
 * the line as a whole
 * @param column the name of the column
 * @param found what was found
 * @param expected what was expected, in plain words
 */
public record Problem(String file, @Nullable Integer line, @Nullable Integer columnNumber, @Nullable String column,
		String found, String expected) {

	@Override
	public String toString() {
		StringBuilder text = new StringBuilder(this.file);
		if (this.line != null) {
			text.append(", line ").append(this.line);
		}
		if (this.column != null) {
			text.append(", ").append(this.column);
			if (this.columnNumber != null) {
				text.append(" (column ").append(this.columnNumber).append(')');
			}
		}
		return text.append(": found ").append(this.found).append("; expected ").append(this.expected).toString();
	}

}
