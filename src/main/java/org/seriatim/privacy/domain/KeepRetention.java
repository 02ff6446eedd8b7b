package org.seriatim.privacy.domain;

import java.sql.Types;
import java.time.Clock;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * How long what is kept, what is due now, and what becomes of it. Nothing is removed that
 * a person has not decided on; what is on hold is never due.
 */
@Service
@Transactional
public class KeepRetention {

	/** For how long a decision to keep something holds. */
	private static final int KEPT_YEARS = 1;

	private final JdbcClient database;

	private final ErasePatient erase;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	KeepRetention(JdbcClient database, ErasePatient erase, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.erase = erase;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
	}

	/** Months by kind; a kind that is missing is kept without end. */
	@Transactional(readOnly = true)
	public Map<RetainedKind, Integer> rules() {
		var rules = new EnumMap<RetainedKind, Integer>(RetainedKind.class);
		this.database.sql("select kind, months from retention_rule").query((row) -> {
			rules.put(RetainedKind.valueOf(row.getString("kind").toUpperCase(Locale.ROOT)), row.getInt("months"));
		});
		return rules;
	}

	/**
	 * @param months nothing to keep the kind without end
	 */
	public void rule(RetainedKind kind, @Nullable Integer months) {
		if (months == null) {
			this.database.sql("delete from retention_rule where kind = :kind").param("kind", kind.word()).update();
		}
		else {
			this.database.sql("""
					insert into retention_rule (kind, months, set_at, set_by) values (:kind, :months, :at, :by)
					on conflict (kind) do update set months = excluded.months, set_at = excluded.set_at,
						set_by = excluded.set_by""")
				.param("kind", kind.word())
				.param("months", months)
				.param("at", OffsetDateTime.now(this.clock))
				.param("by", by(), Types.OTHER)
				.update();
		}
		this.audit.record(Action.ADMINISTERED, "retention_rule", null, null,
				kind.word() + ": " + ((months != null) ? months + " months" : "no end"));
	}

	/** What is due today, by kind, the longest kept first. */
	@Transactional(readOnly = true)
	public List<DueEntry> due() {
		var rules = rules();
		return Stream.of(RetainedKind.values())
			.filter(rules::containsKey)
			.flatMap((kind) -> due(kind, rules.get(kind)).stream())
			.toList();
	}

	private List<DueEntry> due(RetainedKind kind, int months) {
		var today = LocalDate.now(this.clock);
		var before = today.minusMonths(months);
		return this.database.sql("""
				select patient, record_number, last_on, entries from (%s) held
				where last_on < cast(:before as timestamptz)::date
					and not exists (select from legal_hold where patient_id = patient and lifted_at is null)
					and not exists (select from retention_kept
						where kind = :kind and patient_id = patient and kept_until > :today)
				order by last_on, record_number""".formatted(kind.held()))
			.param("before", before.atStartOfDay(this.clock.getZone()).toOffsetDateTime())
			.param("today", today)
			.param("kind", kind.word())
			.query((row, index) -> new DueEntry(kind, new PatientId(row.getObject("patient", UUID.class)),
					row.getString("record_number"), row.getObject("last_on", LocalDate.class), row.getLong("entries")))
			.list();
	}

	/**
	 * Removes what somebody decided to remove, unless it is not due any more.
	 * @return whether it was still due
	 */
	public boolean remove(RetainedKind kind, PatientId patient) {
		var months = rules().get(kind);
		if (months == null || due(kind, months).stream().noneMatch((entry) -> entry.patient().equals(patient))) {
			return false;
		}
		var before = LocalDate.now(this.clock)
			.minusMonths(months)
			.atStartOfDay(this.clock.getZone())
			.toOffsetDateTime();
		switch (kind) {
			case RECORD -> this.erase.of(patient, ErasureReason.RETENTION_ENDED, "retention batch");
			case DRAFT -> {
				this.database
					.sql("""
							update session_draft set content = '{}', version = version + 1
							where patient_id = :patient and status <> 'open' and content <> '{}' and settled_at < :before""")
					.param("patient", patient.value())
					.param("before", before)
					.update();
				this.database.sql("""
						delete from previous_version where table_name = 'session_draft' and entry_id in (
							select id from session_draft where patient_id = :patient and content = '{}')""")
					.param("patient", patient.value())
					.update();
			}
			case ADVICE -> this.database.sql("""
					delete from advice a where patient_id = :patient and replaced_at < :before
						and not exists (select from advice_decision where advice_id = a.id)""")
				.param("patient", patient.value())
				.param("before", before)
				.update();
			default -> throw new IllegalArgumentException("kind must be known, was " + kind);
		}
		this.audit.record(Action.DECIDED, kind.word(), null, patient.value(), "retention: removed");
		return true;
	}

	/** Keeps it for another year, with the reason. */
	public void keep(RetainedKind kind, PatientId patient, String reason) {
		this.database.sql("""
				insert into retention_kept (kind, patient_id, kept_until, reason, decided_at, decided_by)
				values (:kind, :patient, :until, :reason, :at, :by)
				on conflict (kind, patient_id) do update set kept_until = excluded.kept_until, reason = excluded.reason,
					decided_at = excluded.decided_at, decided_by = excluded.decided_by""")
			.param("kind", kind.word())
			.param("patient", patient.value())
			.param("until", LocalDate.now(this.clock).plusYears(KEPT_YEARS))
			.param("reason", reason)
			.param("at", OffsetDateTime.now(this.clock))
			.param("by", by(), Types.OTHER)
			.update();
		this.audit.record(Action.DECIDED, kind.word(), null, patient.value(), "retention: kept");
	}

	private @Nullable UUID by() {
		return this.staff.id().map(StaffId::value).orElse(null);
	}

}
