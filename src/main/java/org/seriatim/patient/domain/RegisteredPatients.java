package org.seriatim.patient.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientSummary;
import org.seriatim.patient.Sebum;
import org.seriatim.patient.Sex;
import org.seriatim.patient.SkinThickness;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
class RegisteredPatients implements PatientDirectory {

	private static final String SUMMARY = """
			select id, record_number, family_name, given_name, birth_date, sex, phototype, skin_thickness, sebum, phone, email
			from patient\s""";

	private final JdbcClient database;

	private final AuditLog audit;

	RegisteredPatients(JdbcClient database, AuditLog audit) {
		this.database = database;
		this.audit = audit;
	}

	@Override
	@Transactional(readOnly = true)
	public Optional<PatientSummary> byId(PatientId id) {
		return this.database.sql(SUMMARY + "where id = :id")
			.param("id", id.value())
			.query(RegisteredPatients::summary)
			.optional();
	}

	@Override
	@Transactional(readOnly = true)
	public Optional<PatientSummary> byRecordNumber(String recordNumber) {
		return this.database.sql(SUMMARY + "where record_number = :number")
			.param("number", recordNumber)
			.query(RegisteredPatients::summary)
			.optional();
	}

	@Override
	@Transactional
	public PatientSummary open(PatientId id) {
		var patient = requireExisting(id);
		this.audit.record(Action.OPENED, "patient", id.value(), id.value());
		return patient;
	}

	private static PatientSummary summary(ResultSet row, int number) throws SQLException {
		return new PatientSummary(new PatientId(row.getObject("id", UUID.class)), row.getString("record_number"),
				row.getString("family_name"), row.getString("given_name"), row.getObject("birth_date", LocalDate.class),
				constant(Sex.class, row.getString("sex")), row.getObject("phototype", Integer.class),
				constant(SkinThickness.class, row.getString("skin_thickness")),
				constant(Sebum.class, row.getString("sebum")), row.getString("phone"), row.getString("email"));
	}

	private static <E extends Enum<E>> @Nullable E constant(Class<E> type, @Nullable String word) {
		return (word != null) ? Enum.valueOf(type, word.toUpperCase(Locale.ROOT)) : null;
	}

}
