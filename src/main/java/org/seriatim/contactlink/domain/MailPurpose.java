package org.seriatim.contactlink.domain;

import java.util.Locale;

/** What a mail to a patient is for. */
public enum MailPurpose {

	/** It carries a link by which the patient answers. */
	LINK,
	/** It reminds of an appointment. */
	REMINDER;

	/** The word in the database and in messages. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

}
