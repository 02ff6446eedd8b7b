package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SessionId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * From a lot to everybody who was treated with it. Looking at the list is looking at
 * these patients' records, and is in the audit log as such.
 */
@Service
@Transactional
public class LotRecall {

	private final JdbcClient database;

	private final AuditLog audit;

	private final Clock clock;

	LotRecall(JdbcClient database, AuditLog audit, Clock clock) {
		this.database = database;
		this.audit = audit;
		this.clock = clock;
	}

	/**
	 * One session with the lot.
	 *
	 * @param name of the patient, with the family name first; empty for a record of
	 * nobody
	 * @param regions words of where it was injected from this lot
	 * @param findings of the session, whatever the lot has to do with them
	 */
	public record Treated(PatientId patient, String recordNumber, String name, @Nullable String phone,
			SessionId session, int number, LocalDate treatedOn, String practitioner, String product,
			List<String> regions, List<FindingNoted> findings) {
	}

	/**
	 * @param open whether nobody has closed it
	 */
	public record FindingNoted(String kind, LocalDate firstNotedOn, @Nullable Integer grade, boolean serious,
			boolean open) {
	}

	/** Everybody's sessions with the lot, by record number; puts the looks on record. */
	public List<Treated> of(String lot) {
		var today = LocalDate.now(this.clock);
		var findings = new java.util.HashMap<UUID, List<FindingNoted>>();
		this.database.sql("""
				select session_id, kind, first_noted_on, grade, coalesce(serious, false) as serious,
					closed_on is null as open
				from finding
				where first_noted_on <= :today and session_id in (select session_id from preparation where lot = :lot)
				order by first_noted_on, code""").param("today", today).param("lot", lot).query((row) -> {
			int grade = row.getInt("grade");
			boolean ungraded = row.wasNull();
			findings.computeIfAbsent(row.getObject("session_id", UUID.class), (id) -> new java.util.ArrayList<>())
				.add(new FindingNoted(row.getString("kind"), row.getObject("first_noted_on", LocalDate.class),
						ungraded ? null : grade, row.getBoolean("serious"), row.getBoolean("open")));
		});
		var treated = this.database.sql("""
				select patient.id as patient_id, record_number, concat_ws(', ', family_name, given_name) as name, phone,
					session.id as session_id, session.number, treated_on, staff.name as practitioner,
					string_agg(distinct product, '; ' order by product) as product,
					array(select distinct injection.region::text from injection
						join preparation from_lot on from_lot.id = injection.preparation_id and from_lot.lot = :lot
						where injection.session_id = session.id order by 1) as regions
				from preparation
				join session on session.id = preparation.session_id
				join patient on patient.id = session.patient_id
				join staff on staff.id = session.practitioner_id
				where preparation.lot = :lot
				group by patient.id, session.id, staff.name
				order by record_number, session.number""").param("lot", lot).query((row, index) -> {
			var session = row.getObject("session_id", UUID.class);
			return new Treated(new PatientId(row.getObject("patient_id", UUID.class)), row.getString("record_number"),
					row.getString("name"), row.getString("phone"), new SessionId(session), row.getInt("number"),
					row.getObject("treated_on", LocalDate.class), row.getString("practitioner"),
					row.getString("product"), List.of((String[]) row.getArray("regions").getArray()),
					List.copyOf(findings.getOrDefault(session, List.of())));
		}).list();
		treated.stream()
			.map(Treated::patient)
			.distinct()
			.forEach((patient) -> this.audit.record(AuditLog.Action.OPENED, "patient", patient.value(), patient.value(),
					"recall"));
		return treated;
	}

}
