package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Optional;

import org.seriatim.access.AuditLog;
import org.seriatim.access.CurrentStaff;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * The register of reports for use outside the clinic. A quarter that has ended is issued
 * once and then stays as it was issued, whatever becomes of the records: two versions of
 * one period, or periods that overlap, would tell by their difference what each of them
 * hides.
 */
@Service
@Transactional
public class IssuedReports {

	private final JdbcClient database;

	private final CurrentStaff staff;

	private final AuditLog audit;

	private final Clock clock;

	IssuedReports(JdbcClient database, CurrentStaff staff, AuditLog audit, Clock clock) {
		this.database = database;
		this.staff = staff;
		this.audit = audit;
		this.clock = clock;
	}

	/**
	 * @param content as it was given to {@link #issue}
	 */
	public record Issued(String quarter, Instant issuedAt, String issuedBy, String content) {
	}

	@Transactional(readOnly = true)
	public Optional<Issued> of(String quarter) {
		return this.database.sql("""
				select quarter, issued_at, staff.name, content::text as content
				from issued_report join staff on staff.id = issued_by
				where quarter = :quarter""")
			.param("quarter", quarter)
			.query((row, index) -> new Issued(row.getString("quarter"), row.getTimestamp("issued_at").toInstant(),
					row.getString("name"), row.getString("content")))
			.optional();
	}

	/** Whether the quarter with this last day may be issued: it has ended. */
	public boolean hasEnded(LocalDate last) {
		return last.isBefore(LocalDate.now(this.clock));
	}

	/**
	 * Puts a report into the register, unless there is one of the quarter already, which
	 * then stays.
	 * @param last day of the quarter, which must have ended
	 * @param content a JSON document
	 */
	public void issue(String quarter, LocalDate last, String content) {
		if (!hasEnded(last)) {
			throw new IllegalArgumentException(quarter + " ends on " + last + " and has not ended");
		}
		int added = this.database.sql("""
				insert into issued_report (quarter, issued_at, issued_by, content)
				values (:quarter, :now, :by, cast(:content as jsonb))
				on conflict do nothing""")
			.param("quarter", quarter)
			.param("now", this.clock.instant().atOffset(ZoneOffset.UTC))
			.param("by", this.staff.id().orElseThrow().value())
			.param("content", content)
			.update();
		if (added == 1) {
			this.audit.record(AuditLog.Action.EXPORTED, "issued_report", null, null, quarter);
		}
	}

}
