package org.seriatim.appointment.domain;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.AppointmentId;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;

/**
 * Something to do about a patient today.
 *
 * @param due the day that it is sorted by: of the appointment, of the contact, the last
 * day of the window, the day from which it waits
 * @param session the last session of the series
 * @param practitioner with whom the appointment is; for what is about none, who treated
 * last is with the session
 * @param first first day of the window that holds
 * @param attempts days on which the patient was not reached since the last answer
 * @param appointment the appointment that it is about
 */
public record DayItem(DayKind kind, Detail detail, LocalDate due, PatientId patient, @Nullable SeriesId series,
		@Nullable SessionId session, @Nullable StaffId practitioner, @Nullable LocalDate first,
		@Nullable LocalDate target, @Nullable LocalDate last, int attempts, @Nullable AppointmentId appointment,
		@Nullable AppointmentPurpose purpose, @Nullable Instant starts) {

	/**
	 * What is on top, then what expires first. An outcome visit does not expire, so it
	 * waits at the end.
	 */
	static final Comparator<DayItem> ORDER = DayItem::compare;

	private static int compare(DayItem one, DayItem other) {
		// by hand, since thousands are compared each time that the list is opened
		var order = Integer.compare(rank(one), rank(other));
		if (order == 0) {
			order = one.due.compareTo(other.due);
		}
		if (order == 0) {
			order = one.kind.compareTo(other.kind);
		}
		if (order == 0) {
			order = one.patient.value().compareTo(other.patient.value());
		}
		return (order != 0) ? order : start(one).compareTo(start(other));
	}

	private static int rank(DayItem item) {
		return switch (item.kind) {
			case UNSUPPORTED -> 0;
			case OUTCOME -> 2;
			default -> 1;
		};
	}

	private static Instant start(DayItem item) {
		return (item.starts != null) ? item.starts : Instant.MIN;
	}

	/** What more there is to say, without anything that the desk may not know. */
	public enum Detail {

		ON_HOLD, TOO_EARLY, TOO_LATE, PLANNED, NOT_REACHED, IN_WINDOW, BEFORE_WINDOW, WINDOW_PASSED, REVIEW_PLAN,
		THREE_ATTEMPTS, DID_NOT_COME, NOT_NOTED, AFTER_SERIES;

		/** The word in messages. */
		public String word() {
			return name().toLowerCase(Locale.ROOT);
		}

	}

}
