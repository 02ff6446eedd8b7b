package org.seriatim.patient.domain;

import java.time.Clock;
import java.util.Objects;
import java.util.Optional;

import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Registers a patient and corrects what is known of one. */
@Service
@Transactional
public class KeepPatient {

	private final Patients patients;

	private final JdbcClient database;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	KeepPatient(Patients patients, JdbcClient database, AuditLog audit, CurrentStaff staff, Clock clock,
			ApplicationEventPublisher events) {
		this.patients = patients;
		this.database = database;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	@Transactional(readOnly = true)
	public Optional<Patient> byId(PatientId id) {
		return this.patients.findById(id);
	}

	/**
	 * @throws RecordNumberGiven if the record number is or was another patient's
	 */
	public PatientId register(PatientDetails details) {
		var patient = new Patient(details.identity(), details.contact(),
				Objects.requireNonNullElse(details.skin(), SkinProfile.UNKNOWN),
				Recorded.first(this.clock.instant(), this.staff));
		save(patient, Action.CREATED);
		return patient.id();
	}

	/**
	 * Replaces what is known by a new version; what says the same as before changes
	 * nothing.
	 * @param shown the version that the form showed
	 * @throws RecordNumberGiven if the record number is or was another patient's
	 * @throws StaleVersion if somebody else corrected the patient in the meantime
	 */
	public void correct(PatientId id, Long shown, PatientDetails details, String reason) {
		var patient = this.patients.findById(id).orElseThrow();
		StaleVersion.unlessSame(shown, patient.version(), patient.recorded());
		var skin = Objects.requireNonNullElse(details.skin(), patient.skin());
		if (details.identity().equals(patient.identity()) && details.contact().equals(patient.contact())
				&& skin.equals(patient.skin())) {
			return;
		}
		patient.correct(details.identity(), details.contact(), skin,
				Recorded.correction(this.clock.instant(), this.staff, reason));
		save(patient, Action.CORRECTED);
	}

	private void save(Patient patient, Action action) {
		if (isGivenToAnother(patient)) {
			throw new RecordNumberGiven();
		}
		try {
			this.patients.saveAndFlush(patient);
		}
		catch (DataIntegrityViolationException ex) {
			// two people at two desks gave the same number at the same moment
			if (String.valueOf(ex.getMessage()).contains("record_number")) {
				throw new RecordNumberGiven();
			}
			throw ex;
		}
		this.audit.record(action, "patient", patient.id().value(), patient.id().value());
		this.events.publishEvent(new PatientRecordChanged(patient.id()));
	}

	private boolean isGivenToAnother(Patient patient) {
		return this.database.sql("""
				select exists (select from record_number_given where record_number = :number and patient_id <> :id)
					or exists (select from erased_record_number where mark = record_number_mark(:number))""")
			.param("number", patient.identity().recordNumber())
			.param("id", patient.id().value())
			.query(Boolean.class)
			.single();
	}

}
