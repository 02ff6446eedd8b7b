package org.seriatim.appointment.domain;

import java.util.Collection;
import java.util.List;
import java.util.Set;

/** A booking that may not be made, or not so. */
public class BookingRefused extends RuntimeException {

	private final Why why;

	private final List<Exceptional> exceptions;

	/** What stands against a booking. */
	public enum Why {

		/** No treatment before a practitioner has decided. */
		ON_HOLD,
		/** The time has passed. */
		IN_THE_PAST,
		/** The patient has another appointment at that time. */
		PATIENT_IS_ELSEWHERE,
		/** A reason is needed, and was not given. */
		NO_REASON,
		/** Only a practitioner or the clinic lead may give the reason. */
		FOR_PRACTITIONERS,
		/** What was asked for does not follow on how the appointment stands. */
		WRONG_STATUS

	}

	BookingRefused(Why why) {
		this(why, Set.of());
	}

	BookingRefused(Why why, Collection<Exceptional> exceptions) {
		super(why.name());
		this.why = why;
		this.exceptions = List.copyOf(exceptions);
	}

	public Why why() {
		return this.why;
	}

	/** What needs a reason. */
	public List<Exceptional> exceptions() {
		return this.exceptions;
	}

}
