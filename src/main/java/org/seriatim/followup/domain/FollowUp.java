package org.seriatim.followup.domain;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;

import org.jspecify.annotations.Nullable;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.StandingAdvice;

/**
 * What the desk follows up: the current advice of a series, whose it is, and the next
 * booked treatment.
 *
 * @param seriesNumber through the patient's series
 * @param bookedFor start of the next booked treatment
 */
public record FollowUp(StandingAdvice standing, String recordNumber, @Nullable String familyName,
		@Nullable String givenName, @Nullable String phone, int seriesNumber, @Nullable Instant bookedFor) {

	/** How a booked treatment stands to the window that holds. */
	public enum Booking {

		/** None is booked. */
		NONE,
		/** Within the window. */
		SUPPORTED,
		/** Although no treatment may be given. */
		ON_HOLD,
		/** Before the first day. */
		TOO_EARLY,
		/** After the last day. */
		TOO_LATE

	}

	public Booking booking(ZoneId clinic) {
		if (this.bookedFor == null) {
			return Booking.NONE;
		}
		var first = this.standing.first();
		var last = this.standing.last();
		if (this.standing.advice().status() == AdviceStatus.HOLD || first == null || last == null) {
			return Booking.ON_HOLD;
		}
		var day = LocalDate.ofInstant(this.bookedFor, clinic);
		if (day.isBefore(first)) {
			return Booking.TOO_EARLY;
		}
		return day.isAfter(last) ? Booking.TOO_LATE : Booking.SUPPORTED;
	}

	/** Whether the window that holds has passed on this day. */
	public boolean isOverdueOn(LocalDate day) {
		var last = this.standing.last();
		return last != null && day.isAfter(last);
	}

	/** Whether the patient is to be contacted on this day, or should have been before. */
	public boolean isContactDueOn(LocalDate day) {
		var next = this.standing.advice().nextContact();
		return next != null && !next.isAfter(day);
	}

}
