package org.seriatim.appointment;

/** How patients are reminded, for the modules that set a clinic up. */
public interface ReminderTexts {

	/**
	 * Sets when patients are reminded and in which words, with places for what is put in.
	 * @param days how many days before the appointment, 1 to 14
	 */
	void set(int days, String subject, String body);

}
