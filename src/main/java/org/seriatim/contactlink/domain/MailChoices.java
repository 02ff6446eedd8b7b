package org.seriatim.contactlink.domain;

import java.time.Clock;
import java.time.OffsetDateTime;
import java.util.Optional;
import java.util.UUID;

import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Whether patients want e-mail. Where nobody chose, it may be sent. */
@Service
@Transactional(readOnly = true)
public class MailChoices {

	private final JdbcClient database;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	MailChoices(JdbcClient database, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
	}

	/** Who made a choice. */
	public enum By {

		PATIENT, STAFF

	}

	/**
	 * What a patient does not want.
	 *
	 * @param optedOut no e-mail at all
	 * @param noReminders no reminders of appointments
	 */
	private record Choice(boolean optedOut, boolean noReminders) {
	}

	/** Whether the patient wants no e-mail at all. */
	public boolean hasOptedOut(PatientId patient) {
		return choice(patient).optedOut();
	}

	/** Whether mail for this purpose is not to go to the patient. */
	public boolean refuses(PatientId patient, MailPurpose purpose) {
		var choice = choice(patient);
		return choice.optedOut() || purpose == MailPurpose.REMINDER && choice.noReminders();
	}

	private Choice choice(PatientId patient) {
		return this.database.sql("select opted_out, no_reminders from mail_choice where patient_id = :patient")
			.param("patient", patient.value())
			.query((row, index) -> new Choice(row.getBoolean("opted_out"), row.getBoolean("no_reminders")))
			.optional()
			.orElse(new Choice(false, false));
	}

	/** The entry of the patient's choice, whose earlier versions can be read. */
	public Optional<UUID> entryOf(PatientId patient) {
		return this.database.sql("select id from mail_choice where patient_id = :patient")
			.param("patient", patient.value())
			.query(UUID.class)
			.optional();
	}

	/**
	 * Keeps the choice about all mail; the same one again changes nothing. Mail that
	 * waits is withdrawn.
	 */
	@Transactional
	public void choose(PatientId patient, boolean optedOut, By by) {
		keep(patient, new Choice(optedOut, choice(patient).noReminders()), by);
	}

	/** Keeps the choice about reminders; those that wait are withdrawn. */
	@Transactional
	public void chooseReminders(PatientId patient, boolean none, By by) {
		keep(patient, new Choice(choice(patient).optedOut(), none), by);
	}

	private void keep(PatientId patient, Choice choice, By by) {
		if (choice(patient).equals(choice)) {
			return;
		}
		var kept = this.database.sql("""
				insert into mail_choice (id, patient_id, opted_out, no_reminders, chosen_by, recorded_at, recorded_by)
				values (:id, :patient, :out, :noReminders, :by, :now, :staff)
				on conflict (patient_id) do update set opted_out = excluded.opted_out,
					no_reminders = excluded.no_reminders, chosen_by = excluded.chosen_by,
					recorded_at = excluded.recorded_at, recorded_by = excluded.recorded_by,
					correction_reason = 'chosen again', version = mail_choice.version + 1
				returning id, version""")
			.param("id", UUID.randomUUID())
			.param("patient", patient.value())
			.param("out", choice.optedOut())
			.param("noReminders", choice.noReminders())
			.param("by", (by == By.PATIENT) ? "patient" : "staff")
			.param("now", OffsetDateTime.now(this.clock))
			.param("staff", this.staff.id().map(StaffId::value).orElse(null))
			.query((row, index) -> new Kept(row.getObject("id", UUID.class), row.getLong("version")))
			.single();
		this.audit.record((kept.version() == 0) ? Action.CREATED : Action.CORRECTED, "mail_choice", kept.id(),
				patient.value());
		this.database.sql("""
				update outbox_message set state = 'withdrawn', next_attempt_at = null, problem = 'opted_out'
				where patient_id = :patient and state = 'waiting' and (:all or :reminders and purpose = 'reminder')""")
			.param("patient", patient.value())
			.param("all", choice.optedOut())
			.param("reminders", choice.noReminders())
			.update();
	}

	private record Kept(UUID id, long version) {
	}

}
