package org.seriatim.appointment.domain;

import org.seriatim.access.StaffId;

/** Somebody else was booked for this time first. */
public class TimeTaken extends RuntimeException {

	private final transient StaffId practitioner;

	private final transient Span time;

	TimeTaken(StaffId practitioner, Span time) {
		super("the time is taken");
		this.practitioner = practitioner;
		this.time = time;
	}

	public StaffId practitioner() {
		return this.practitioner;
	}

	public Span time() {
		return this.time;
	}

}
