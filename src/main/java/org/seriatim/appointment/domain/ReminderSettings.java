package org.seriatim.appointment.domain;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.contactlink.MailText;
import org.seriatim.contactlink.PatientMail.Clinic;

/**
 * When the clinic reminds of appointments, and in which words.
 *
 * @param number of the version
 * @param days how many days before the appointment; none where nobody is reminded
 */
public record ReminderSettings(int number, @Nullable Integer days, @Nullable String subject, @Nullable String body) {

	/** Where the day of the appointment stands. */
	public static final String DATE = "{date}";

	/** Where the time to arrive stands. */
	public static final String TIME = "{time}";

	/** Where the clinic's name stands. */
	public static final String CLINIC = "{clinic}";

	/** Where the clinic's telephone number stands. */
	public static final String PHONE = "{phone}";

	/** All that a reminder can have put in. */
	public static final Set<String> PLACES = Set.of(DATE, TIME, CLINIC, PHONE);

	private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEEE d MMMM uuuu", Locale.ENGLISH);

	private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

	/** Whether patients are reminded. */
	public boolean isOn() {
		return this.days != null;
	}

	/** The reminder of an appointment to which one comes on this day at this time. */
	public MailText write(LocalDate day, LocalTime arrival, Clinic clinic) {
		return new MailText(filled(this.subject, day, arrival, clinic), filled(this.body, day, arrival, clinic));
	}

	private static String filled(@Nullable String template, LocalDate day, LocalTime arrival, Clinic clinic) {
		// what is put in is not looked through for places again
		var filled = new StringBuilder();
		for (var part : ((template != null) ? template : "").split("(?=\\{)|(?<=})")) {
			filled.append(switch (part) {
				case DATE -> DAY.format(day);
				case TIME -> CLOCK.format(arrival);
				case CLINIC -> (clinic.name() != null) ? clinic.name() : "";
				case PHONE -> (clinic.phone() != null) ? clinic.phone() : "";
				default -> part;
			});
		}
		return filled.toString();
	}

	boolean saysTheSameAs(ReminderSettings other) {
		return new ReminderSettings(0, this.days, this.subject, this.body)
			.equals(new ReminderSettings(0, other.days, other.subject, other.body));
	}

}
