package org.seriatim.treatment;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.seriatim.screening.ScreeningItem;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Patients, scars, series and sessions that a test starts from, written the short way.
 * What a test is about goes through the application.
 */
public class TestTreatment {

	private final JdbcClient database;

	public TestTreatment(JdbcClient database) {
		this.database = database;
	}

	/** A patient with this record number and nothing else. */
	public PatientId patient(String recordNumber) {
		var id = PatientId.next();
		this.database.sql("insert into patient (id, record_number) values (?, ?)")
			.params(id.value(), recordNumber)
			.update();
		return id;
	}

	public void birthDate(PatientId patient, String day) {
		this.database.sql("update patient set birth_date = ?, version = version + 1 where id = ?")
			.params(LocalDate.parse(day), patient.value())
			.update();
	}

	/**
	 * Answers every item of the screening with no on a day, and records a consent of that
	 * day, so that nothing stops a session.
	 */
	public void screened(PatientId patient, String day) {
		for (var item : ScreeningItem.values()) {
			this.database
				.sql("""
						insert into screening_answer (patient_id, item, asked_on, answer, asked_by, confirmed_by, list_version)
						values (:patient, :item, cast(:day as date), 'no', :staff, :staff, 1)""")
				.param("patient", patient.value())
				.param("item", item.word())
				.param("day", day)
				.param("staff", practitioner().value())
				.update();
		}
		this.database.sql("""
				insert into treatment_consent (patient_id, given_on, document_reference)
				values (?, ?, 'C-1')""").params(patient.value(), LocalDate.parse(day)).update();
	}

	public ScarId scar(PatientId patient, String label, Region region) {
		var id = ScarId.next();
		this.database.sql(
				"insert into scar (id, patient_id, label, region, type, first_recorded_on) values (?, ?, ?, ?, 'rolling', '2026-01-05')")
			.params(id.value(), patient.value(), label, region.word())
			.update();
		return id;
	}

	/** The patient's open series. */
	public SeriesId series(PatientId patient) {
		var id = SeriesId.next();
		this.database.sql("""
				insert into series (id, patient_id, number, status, protocol_version)
				values (:id, :patient, (select coalesce(max(number), 0) + 1 from series where patient_id = :patient),
					'open', 1)""").param("id", id.value()).param("patient", patient.value()).update();
		return id;
	}

	public void end(SeriesId series, String day) {
		this.database.sql("""
				update series set status = 'completed', ended_on = ?, reason = 'goal reached', version = version + 1
				where id = ?""").params(LocalDate.parse(day), series.value()).update();
	}

	public StaffId practitioner() {
		return new StaffId(this.database.sql("""
				insert into staff (name) values ('a.venn') on conflict (name) do update set name = excluded.name
				returning id""").query(UUID.class).single());
	}

	/** A session with nothing but its number and day. */
	public SessionId session(SeriesId series, int number, String day) {
		var id = SessionId.next();
		this.database
			.sql("""
					insert into session (id, patient_id, series_id, number, treated_on, practitioner_id)
					select :id, patient_id, id, :number, cast(:day as date), :practitioner from series where id = :series""")
			.param("id", id.value())
			.param("number", number)
			.param("day", day)
			.param("practitioner", practitioner().value())
			.param("series", series.value())
			.update();
		return id;
	}

	public void weight(SessionId session, String kilograms) {
		this.database.sql("update session set weight_kg = ?, version = version + 1 where id = ?")
			.params(new BigDecimal(kilograms), session.value())
			.update();
	}

	/** An injection into a region, or into a scar of it. */
	public void injection(SessionId session, Region region, @Nullable ScarId scar) {
		this.database.sql("""
				insert into injection (patient_id, session_id, number, region, scar_id, target)
				select patient_id, id, (select coalesce(max(number), 0) + 1 from injection where session_id = :session),
					:region, cast(:scar as uuid), case when cast(:scar as uuid) is null then 'pores' else 'scar' end
				from session where id = :session""")
			.param("session", session.value())
			.param("region", region.word())
			.param("scar", (scar != null) ? scar.toString() : null, java.sql.Types.VARCHAR)
			.update();
	}

}
