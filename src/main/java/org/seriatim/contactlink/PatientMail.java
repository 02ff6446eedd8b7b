package org.seriatim.contactlink;

import java.time.Instant;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;

/**
 * The outbox, for the module that knows appointments and comes later: it says who is to
 * be reminded, and {@link AppointmentReminders} what a reminder says when it goes.
 */
public interface PatientMail {

	/**
	 * Lets a reminder wait in the outbox, unless this patient has one for this time
	 * already; one that was withdrawn waits again. Two services that do this at once make
	 * one.
	 * @param recipient the patient's address
	 * @param appointment its id
	 * @param starts when it starts
	 * @return whether one waits now that did not before
	 */
	boolean remind(PatientId patient, String recipient, UUID appointment, Instant starts);

	/** The reminders that wait to be sent. */
	List<WaitingReminder> waitingReminders();

	/** Takes a reminder out that waits, because its time holds no longer. */
	void withdraw(UUID message);

	/** The reminders of an appointment, the latest first. */
	List<Reminder> remindersOf(UUID appointment);

	/** Whether the patient wants no reminders, or no mail at all. */
	boolean refusesReminders(PatientId patient);

	/** What mail calls the clinic, and whether there is a way to send any. */
	Clinic clinic();

	/**
	 * A reminder that waits.
	 *
	 * @param message its id in the outbox
	 */
	record WaitingReminder(UUID message, PatientId patient, UUID appointment, Instant starts) {
	}

	/**
	 * What became of a reminder.
	 *
	 * @param message its id in the outbox
	 * @param starts the time that it named
	 * @param state message key
	 * @param withdrawn whether it was taken out before it went
	 */
	record Reminder(UUID message, Instant starts, String state, boolean withdrawn, @Nullable Instant sentAt) {
	}

	/** The clinic as mail names it; what nobody entered is {@code null}. */
	record Clinic(@Nullable String name, @Nullable String phone, boolean sendsMail) {
	}

}
