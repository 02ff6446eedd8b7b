package org.seriatim.appointment.domain;

/** A practitioner has working hours at that time of the week already. */
public class HoursOverlap extends RuntimeException {

	HoursOverlap() {
		super("the hours overlap");
	}

}
