package org.seriatim.appointment.domain;

import java.time.Instant;
import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * Appointments as an iCalendar file. The same appointments make the same bytes: the stamp
 * of an event is when its appointment was last changed, not when the file was asked for.
 */
public final class CalendarFile {

	private CalendarFile() {
	}

	/**
	 * An event.
	 *
	 * @param id stays the same for an appointment that is moved
	 * @param changes how often it was changed
	 * @param changedAt when it was changed last
	 * @param title nothing about anybody's health, and no name
	 */
	public record Event(String id, long changes, Instant changedAt, Span time, String title, @Nullable String place,
			@Nullable String description) {
	}

	public static String of(List<Event> events) {
		var file = new StringBuilder();
		file.append(ContentLine.of("BEGIN", "VCALENDAR"))
			.append(ContentLine.of("VERSION", "2.0"))
			.append(ContentLine.of("PRODID", "-//Seriatim//Appointments//EN"));
		for (var event : events) {
			file.append(ContentLine.of("BEGIN", "VEVENT"))
				.append(ContentLine.ofText("UID", event.id()))
				.append(ContentLine.ofTime("DTSTAMP", event.changedAt()))
				.append(ContentLine.of("SEQUENCE", Long.toString(event.changes())))
				.append(ContentLine.ofTime("DTSTART", event.time().start()))
				.append(ContentLine.ofTime("DTEND", event.time().end()))
				.append(ContentLine.ofText("SUMMARY", event.title()));
			if (event.place() != null) {
				file.append(ContentLine.ofText("LOCATION", event.place()));
			}
			if (event.description() != null) {
				file.append(ContentLine.ofText("DESCRIPTION", event.description()));
			}
			file.append(ContentLine.of("CLASS", "PRIVATE")).append(ContentLine.of("END", "VEVENT"));
		}
		return file.append(ContentLine.of("END", "VCALENDAR")).toString();
	}

}
