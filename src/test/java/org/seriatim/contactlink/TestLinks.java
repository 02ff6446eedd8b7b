package org.seriatim.contactlink;

import org.springframework.jdbc.core.simple.JdbcClient;

/** A clinic that has said what every patient must be told. */
public final class TestLinks {

	/** Where its patients reach it. */
	public static final String BASE = "https://clinic.example";

	private TestLinks() {
	}

	/** Sets what must be set, and a sender of mail. */
	public static void setUp(JdbcClient database) {
		database.sql("""
				insert into contact_link_settings (number, published_at, clinic_name, clinic_phone, emergency_text,
					emergency_phone, reading_times, base_address, days, sender, subject, body)
				select 2, now(), 'Clinic by the Lake', '+00 555 0101', 'Go to the hospital at once.', '+00 555 0100',
					'on working days from 8 to 16', :base, 42, 'desk@clinic.example', subject, body
				from contact_link_settings where number = 1""").param("base", BASE).update();
	}

}
