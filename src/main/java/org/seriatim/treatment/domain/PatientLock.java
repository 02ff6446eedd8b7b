package org.seriatim.treatment.domain;

import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Lets one transaction after the other write what must be unique within a patient, such
 * as the next number. Held until the end of the transaction.
 */
@Component
class PatientLock {

	private final JdbcClient database;

	PatientLock(JdbcClient database) {
		this.database = database;
	}

	void hold(PatientId patient) {
		this.database.sql("select id from patient where id = :patient for no key update")
			.param("patient", patient.value())
			.query()
			.singleRow();
	}

}
