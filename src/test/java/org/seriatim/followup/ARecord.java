package org.seriatim.followup;

import java.time.LocalDate;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

import org.seriatim.assessment.ScarId;
import org.seriatim.finding.FindingId;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;

import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * A patient's record written straight into the tables, for tests of what follows from it.
 * Days are counted from {@link #DAY_0}.
 */
public final class ARecord {

	public static final LocalDate DAY_0 = LocalDate.of(2026, 9, 1);

	private final JdbcClient database;

	private final UUID staff;

	private final PatientId patient;

	private int findings;

	private ARecord(JdbcClient database, UUID staff, PatientId patient) {
		this.database = database;
		this.staff = staff;
		this.patient = patient;
	}

	public static ARecord of(JdbcClient database, String recordNumber) {
		return of(database, recordNumber, null, null);
	}

	public static ARecord of(JdbcClient database, String recordNumber, @Nullable String familyName,
			@Nullable String givenName) {
		var staff = database.sql("""
				insert into staff (name) values ('r.vale') on conflict (name) do update set name = excluded.name
				returning id""").query(UUID.class).single();
		var patient = database.sql("""
				insert into patient (record_number, family_name, given_name) values (:number, :family, :given)
				returning id""")
			.param("number", recordNumber)
			.param("family", familyName)
			.param("given", givenName)
			.query(UUID.class)
			.single();
		return new ARecord(database, staff, new PatientId(patient));
	}

	public PatientId patient() {
		return this.patient;
	}

	public static LocalDate day(int number) {
		return DAY_0.plusDays(number);
	}

	public SeriesId openSeries() {
		return new SeriesId(this.database.sql("""
				insert into series (patient_id, number, status, protocol_version)
				select :patient, count(*) + 1, 'open', 1 from series where patient_id = :patient returning id""")
			.param("patient", this.patient.value())
			.query(UUID.class)
			.single());
	}

	public void end(SeriesId series, int day) {
		this.database.sql("""
				update series set status = 'completed', ended_on = :day, version = version + 1 where id = :id""")
			.param("day", day(day))
			.param("id", series.value())
			.update();
	}

	public SessionId session(SeriesId series, int day) {
		return new SessionId(this.database.sql("""
				insert into session (patient_id, series_id, number, treated_on, practitioner_id)
				select :patient, :series, count(*) + 1, :day, :staff from session where patient_id = :patient
				returning id""")
			.param("patient", this.patient.value())
			.param("series", series.value())
			.param("day", day(day))
			.param("staff", this.staff)
			.query(UUID.class)
			.single());
	}

	public FindingId finding(@Nullable SessionId session, String kind, int notedOn) {
		return new FindingId(this.database.sql("""
				insert into finding (code, patient_id, session_id, kind, region, first_noted_on, grade, serious)
				values (:code, :patient, cast(:session as uuid), :kind, 'nose', :day, 1, false) returning id""")
			.param("code", this.patient + "/" + ++this.findings)
			.param("patient", this.patient.value())
			.param("session", (session != null) ? session.toString() : null)
			.param("kind", kind)
			.param("day", day(notedOn))
			.query(UUID.class)
			.single());
	}

	public void observe(FindingId finding, int day, boolean present) {
		this.database.sql("""
				insert into finding_observation (finding_id, observed_on, reporter, channel, present)
				values (:finding, :day, 'patient', 'phone', :present)""")
			.param("finding", finding.value())
			.param("day", day(day))
			.param("present", present)
			.update();
	}

	public void contact(SessionId session, int day) {
		this.database.sql("""
				insert into contact (patient_id, session_id, contacted_on, channel, outcome, lumps_present)
				values (:patient, :session, :day, 'phone', 'reached', false)""")
			.param("patient", this.patient.value())
			.param("session", session.value())
			.param("day", day(day))
			.update();
	}

	/** Rates a scar, which is tracked from then on, by gauge. */
	public ScarId rate(String label, int day, double depthMm) {
		var scar = this.database.sql("""
				insert into scar (patient_id, label, region, type, first_recorded_on)
				values (:patient, :label, 'nose', 'boxcar', :day)
				on conflict (patient_id, label) do update set version = scar.version + 1 returning id""")
			.param("patient", this.patient.value())
			.param("label", label)
			.param("day", day(day))
			.query(UUID.class)
			.single();
		this.database.sql("""
				insert into scar_assessment (patient_id, scar_id, assessed_on, assessor_id, depth_mm, depth_method)
				values (:patient, :scar, :day, :staff, :depth, 'gauge')""")
			.param("patient", this.patient.value())
			.param("scar", scar)
			.param("day", day(day))
			.param("staff", this.staff)
			.param("depth", depthMm)
			.update();
		return new ScarId(scar);
	}

	/** Books a treatment at noon, by coordinated universal time. */
	public void book(int day) {
		this.database.sql("""
				insert into appointment (patient_id, practitioner_id, starts_at, ends_at, starts_offset_minutes,
					ends_offset_minutes, purpose, status)
				values (:patient, :staff, cast(:day as timestamp) at time zone 'UTC' + interval '12 hours',
					cast(:day as timestamp) at time zone 'UTC' + interval '13 hours', 0, 0, 'treatment', 'booked')""")
			.param("patient", this.patient.value())
			.param("staff", this.staff)
			.param("day", day(day))
			.update();
	}

}
