package org.seriatim.finding.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.finding.Channel;
import org.seriatim.finding.ContactId;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.PatientFindings;
import org.seriatim.finding.RecordedContact;
import org.seriatim.finding.RecordedFinding;
import org.seriatim.finding.RecordedObservation;
import org.seriatim.finding.Reporter;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SessionId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Reads any number of findings with two statements, contacts with one. */
@Component
@Transactional(readOnly = true)
class RecordedFindings implements PatientFindings {

	private final JdbcClient database;

	RecordedFindings(JdbcClient database) {
		this.database = database;
	}

	@Override
	public List<RecordedFinding> of(PatientId patient) {
		return of(List.of(patient)).getOrDefault(patient, List.of());
	}

	@Override
	public Map<PatientId, List<RecordedFinding>> of(Collection<PatientId> patients) {
		var observations = new HashMap<UUID, List<RecordedObservation>>();
		this.database.sql("""
				select finding_id, observed_on, reporter, channel, present, size_mm
				from finding_observation join finding on finding.id = finding_id
				where patient_id = any(cast(:patients as uuid[]))
				order by observed_on, finding_observation.id""").param("patients", ids(patients)).query((row) -> {
			observations.computeIfAbsent(row.getObject("finding_id", UUID.class), (id) -> new ArrayList<>())
				.add(observation(row));
		});
		return this.database.sql("""
				select finding.id, code, finding.patient_id, session_id, kind, finding.region, scar_id,
					scar.label as scar_label, first_noted_on, grade, serious, gone_on, closed_on, closed_by,
					closing_reason
				from finding left join scar on scar.id = scar_id
				where finding.patient_id = any(cast(:patients as uuid[]))
				order by first_noted_on, code""")
			.param("patients", ids(patients))
			.query((row, index) -> finding(row, observations))
			.list()
			.stream()
			.collect(Collectors.groupingBy(RecordedFinding::patient));
	}

	@Override
	public List<RecordedContact> contactsOf(PatientId patient) {
		return contactsOf(List.of(patient)).getOrDefault(patient, List.of());
	}

	@Override
	public Map<PatientId, List<RecordedContact>> contactsOf(Collection<PatientId> patients) {
		return this.database.sql("""
				select id, patient_id, session_id, contacted_on, channel, outcome, lumps_present, pain_nrs, note
				from contact
				where patient_id = any(cast(:patients as uuid[]))
				order by contacted_on, id""")
			.param("patients", ids(patients))
			.query((row, index) -> contact(row))
			.list()
			.stream()
			.collect(Collectors.groupingBy(RecordedContact::patient));
	}

	/*
	 * A set of ids travels as one text, so that the statement is the same for one patient
	 * and for thousands.
	 */
	private static String ids(Collection<PatientId> patients) {
		return patients.stream().map(PatientId::toString).collect(Collectors.joining(",", "{", "}"));
	}

	private static RecordedFinding finding(ResultSet row, Map<UUID, List<RecordedObservation>> observations)
			throws SQLException {
		var id = row.getObject("id", UUID.class);
		var session = row.getObject("session_id", UUID.class);
		var scar = row.getObject("scar_id", UUID.class);
		var closedBy = row.getObject("closed_by", UUID.class);
		return new RecordedFinding(new FindingId(id), row.getString("code"),
				new PatientId(row.getObject("patient_id", UUID.class)),
				(session != null) ? new SessionId(session) : null, constant(FindingKind.class, row.getString("kind")),
				nullable(Region.class, row.getString("region")), (scar != null) ? new ScarId(scar) : null,
				row.getString("scar_label"), row.getObject("first_noted_on", LocalDate.class),
				row.getObject("grade", Integer.class), row.getObject("serious", Boolean.class),
				row.getObject("gone_on", LocalDate.class), row.getObject("closed_on", LocalDate.class),
				(closedBy != null) ? new StaffId(closedBy) : null, row.getString("closing_reason"),
				observations.getOrDefault(id, List.of()));
	}

	private static RecordedObservation observation(ResultSet row) throws SQLException {
		return new RecordedObservation(row.getObject("observed_on", LocalDate.class),
				constant(Reporter.class, row.getString("reporter")), constant(Channel.class, row.getString("channel")),
				row.getBoolean("present"), row.getBigDecimal("size_mm"));
	}

	private static RecordedContact contact(ResultSet row) throws SQLException {
		return new RecordedContact(new ContactId(row.getObject("id", UUID.class)),
				new PatientId(row.getObject("patient_id", UUID.class)),
				new SessionId(row.getObject("session_id", UUID.class)), row.getObject("contacted_on", LocalDate.class),
				constant(Channel.class, row.getString("channel")),
				constant(ContactOutcome.class, row.getString("outcome")), row.getObject("lumps_present", Boolean.class),
				row.getObject("pain_nrs", Integer.class), row.getString("note"));
	}

	private static <E extends Enum<E>> E constant(Class<E> type, String word) {
		return Enum.valueOf(type, word.toUpperCase(Locale.ROOT));
	}

	private static <E extends Enum<E>> @Nullable E nullable(Class<E> type, @Nullable String word) {
		return (word != null) ? constant(type, word) : null;
	}

}
