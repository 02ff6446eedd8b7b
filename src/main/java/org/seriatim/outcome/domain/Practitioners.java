package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.seriatim.access.AuditLog;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * How practitioners are called in the clinic's figures: by a code, so that a rate is not
 * read as a mark, unless the lead has opened the names. Files for a lead carry names, and
 * that is on record each time.
 */
@Service
@Transactional
public class Practitioners {

	private final JdbcClient database;

	private final CurrentStaff staff;

	private final AuditLog audit;

	private final Clock clock;

	Practitioners(JdbcClient database, CurrentStaff staff, AuditLog audit, Clock clock) {
		this.database = database;
		this.staff = staff;
		this.audit = audit;
		this.clock = clock;
	}

	/** Somebody who treated. */
	public record Practitioner(StaffId id, String name, String code) {
	}

	/** Names that are open, with who opened them and why. */
	public record Opening(UUID id, Instant openedAt, String openedBy, String reason) {
	}

	/** Everybody who has treated, by code. */
	@Transactional(readOnly = true)
	public List<Practitioner> all() {
		return this.database.sql("""
				select id, name, figure_code from staff
				where exists (select from session where practitioner_id = staff.id)""")
			.query((row, index) -> new Practitioner(new StaffId(row.getObject("id", UUID.class)), row.getString("name"),
					row.getString("figure_code")))
			.stream()
			.sorted(Comparator.comparing(Practitioner::code))
			.toList();
	}

	@Transactional(readOnly = true)
	public Optional<Opening> opening() {
		return this.database.sql("""
				select opening.id, opened_at, staff.name, reason
				from practitioner_names_opening opening join staff on staff.id = opened_by
				where closed_at is null""")
			.query((row, index) -> new Opening(row.getObject("id", UUID.class),
					row.getTimestamp("opened_at").toInstant(), row.getString("name"), row.getString("reason")))
			.optional();
	}

	/** Whether pages say names now. */
	@Transactional(readOnly = true)
	public boolean areNamed() {
		return opening().isPresent();
	}

	/**
	 * Whether a file for who asks says names; where only the role opens them, the opening
	 * is put on record.
	 */
	public boolean areNamedInFile() {
		if (areNamed()) {
			return true;
		}
		if (this.staff.has(Role.CLINIC_LEAD)) {
			this.audit.record(AuditLog.Action.OPENED, "practitioner_names", null, null, "file");
			return true;
		}
		return false;
	}

	/** Lets everybody who may see the clinic's figures see the names. */
	public void open(String reason) {
		this.database.sql("""
				insert into practitioner_names_opening (opened_at, opened_by, reason) values (:now, :by, :reason)
				on conflict do nothing""")
			.param("now", java.sql.Timestamp.from(this.clock.instant()))
			.param("by", this.staff.id().orElseThrow().value())
			.param("reason", reason.strip())
			.update();
		this.audit.record(AuditLog.Action.OPENED, "practitioner_names", null, null, "opened");
	}

	/** Goes back to codes. */
	public void close() {
		this.database.sql("""
				update practitioner_names_opening set closed_at = greatest(:now, opened_at), closed_by = :by
				where closed_at is null""")
			.param("now", java.sql.Timestamp.from(this.clock.instant()))
			.param("by", this.staff.id().orElseThrow().value())
			.update();
		this.audit.record(AuditLog.Action.ADMINISTERED, "practitioner_names", null, null, "closed");
	}

}
