package org.seriatim.appointment.domain;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/**
 * Lines of an iCalendar file (RFC 5545): texts escaped (section 3.3.11), times in
 * coordinated universal time (3.3.5), and lines folded so that none is longer than 75
 * octets without its line break (3.1).
 */
final class ContentLine {

	private static final int OCTETS = 75;

	private static final String BREAK = "\r\n";

	private static final DateTimeFormatter UTC = DateTimeFormatter.ofPattern("uuuuMMdd'T'HHmmss'Z'", Locale.ROOT)
		.withZone(ZoneOffset.UTC);

	private ContentLine() {
	}

	/** A line with a value that is written as it is. */
	static String of(String property, String value) {
		return folded(property + ":" + value) + BREAK;
	}

	static String ofText(String property, String text) {
		return of(property, escaped(text));
	}

	static String ofTime(String property, Instant time) {
		return of(property, UTC.format(time));
	}

	static String escaped(String text) {
		return text.replace("\\", "\\\\")
			.replace(";", "\\;")
			.replace(",", "\\,")
			.replace("\r\n", "\\n")
			.replace("\n", "\\n")
			.replace("\r", "\\n");
	}

	/** Never within a character, although the standard would allow that. */
	static String folded(String line) {
		var folded = new StringBuilder();
		var octets = 0;
		for (var at = 0; at < line.length();) {
			var character = Character.toString(line.codePointAt(at));
			var length = character.getBytes(StandardCharsets.UTF_8).length;
			if (octets + length > OCTETS) {
				folded.append(BREAK).append(' ');
				octets = 1;
			}
			folded.append(character);
			octets += length;
			at += character.length();
		}
		return folded.toString();
	}

}
