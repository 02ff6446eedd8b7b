package org.seriatim.assessment;

import java.time.LocalDate;
import java.util.UUID;

import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Patients for tests that are about what was seen of them. */
public final class AssessedPatients {

	private final JdbcClient database;

	public AssessedPatients(JdbcClient database) {
		this.database = database;
	}

	public PatientId patient(String recordNumber) {
		return new PatientId(this.database.sql(
				"insert into patient (record_number, family_name, given_name) values (:number, 'Tamm', 'Tove') returning id")
			.param("number", recordNumber)
			.query(UUID.class)
			.single());
	}

	public ScarId scar(PatientId patient, String label, Region region, ScarType type) {
		return new ScarId(this.database.sql("""
				insert into scar (patient_id, label, region, type, first_recorded_on)
				values (:patient, :label, :region, :type, :day) returning id""")
			.param("patient", patient.value())
			.param("label", label)
			.param("region", region.word())
			.param("type", type.word())
			.param("day", LocalDate.of(2026, 1, 5))
			.query(UUID.class)
			.single());
	}

}
