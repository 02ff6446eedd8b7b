package org.seriatim.privacy.domain;

import java.sql.Types;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffId;
import org.seriatim.patient.LegalHolds;
import org.seriatim.patient.PatientErased;
import org.seriatim.patient.PatientId;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Erases a patient's record for good. The database does it in one function, which is the
 * only door through its guards against deletion.
 */
@Service
@Transactional
public class ErasePatient {

	private final JdbcClient database;

	private final LegalHolds holds;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	ErasePatient(JdbcClient database, LegalHolds holds, AuditLog audit, CurrentStaff staff, Clock clock,
			ApplicationEventPublisher events) {
		this.database = database;
		this.holds = holds;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	/** How much would go. */
	@Transactional(readOnly = true)
	public RecordExtent extent(PatientId patient) {
		return this.database.sql("""
				select (select count(*) from series where patient_id = :patient) as series,
					(select count(*) from session where patient_id = :patient) as sessions,
					(select count(*) from scar where patient_id = :patient) as scars,
					(select count(*) from scar_assessment where patient_id = :patient)
						+ (select count(*) from scar_count where patient_id = :patient)
						+ (select count(*) from pore_assessment where patient_id = :patient)
						+ (select count(*) from global_assessment where patient_id = :patient) as assessments,
					(select count(*) from finding where patient_id = :patient) as findings,
					(select count(*) from contact where patient_id = :patient) as contacts,
					(select count(*) from appointment where patient_id = :patient) as appointments,
					(select count(*) from session_draft where patient_id = :patient) as drafts,
					(select count(*) from advice where patient_id = :patient) as advice,
					(select count(*) from previous_version where content ->> 'patient_id' = cast(:patient as text)
						or table_name = 'patient' and entry_id = :patient) as versions""")
			.param("patient", patient.value())
			.query((row, index) -> new RecordExtent(row.getLong("series"), row.getLong("sessions"),
					row.getLong("scars"), row.getLong("assessments"), row.getLong("findings"), row.getLong("contacts"),
					row.getLong("appointments"), row.getLong("drafts"), row.getLong("advice"), row.getLong("versions")))
			.single();
	}

	/**
	 * Erases it. The audit log keeps the opaque id, the reason, who and when.
	 * @param note nothing about the patient
	 * @throws OnHold if the record is on hold
	 */
	public void of(PatientId patient, ErasureReason reason, @Nullable String note) {
		if (this.holds.of(patient).isPresent()) {
			throw new OnHold();
		}
		this.events.publishEvent(new PatientErased(patient));
		this.database.sql("select erase_patient(:patient, :at, :by, :reason, :note)")
			.param("patient", patient.value())
			.param("at", OffsetDateTime.now(this.clock))
			.param("by", this.staff.id().map(StaffId::value).orElse(null), Types.OTHER)
			.param("reason", reason.word())
			.param("note", note, Types.VARCHAR)
			.query((row, index) -> "")
			.list();
		this.audit.record(Action.DECIDED, "patient", patient.value(), patient.value(), "erased: " + reason.word());
	}

	/** Every erasure, the latest first. */
	@Transactional(readOnly = true)
	public List<PastErasure> register() {
		return this.database.sql("""
				select e.patient_id, e.erased_at, s.name, e.reason, e.note, e.sessions, e.findings
				from erasure e left join staff s on s.id = e.erased_by
				order by e.erased_at desc, e.id desc""")
			.query((row, index) -> new PastErasure(row.getString("patient_id"),
					row.getObject("erased_at", OffsetDateTime.class).toInstant(), row.getString("name"),
					row.getString("reason"), row.getString("note"), row.getInt("sessions"), row.getInt("findings")))
			.list();
	}

}
