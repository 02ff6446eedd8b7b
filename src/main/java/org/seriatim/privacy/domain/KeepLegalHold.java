package org.seriatim.privacy.domain;

import java.sql.Types;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffId;
import org.seriatim.patient.LegalHolds;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Sets and lifts a hold; what is as asked for already stays as it is. */
@Service
@Transactional
public class KeepLegalHold implements LegalHolds {

	private final JdbcClient database;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	KeepLegalHold(JdbcClient database, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
	}

	@Override
	@Transactional(readOnly = true)
	public Optional<LegalHold> of(PatientId patient) {
		return this.database
			.sql("select reason, set_at, set_by from legal_hold where patient_id = :patient and lifted_at is null")
			.param("patient", patient.value())
			.query((row, index) -> {
				var by = row.getObject("set_by", UUID.class);
				return new LegalHold(row.getString("reason"), row.getObject("set_at", OffsetDateTime.class).toInstant(),
						(by != null) ? new StaffId(by) : null);
			})
			.optional();
	}

	public void set(PatientId patient, String reason) {
		// an erasure at the same moment waits for the same row
		this.database.sql("select id from patient where id = :patient for update")
			.param("patient", patient.value())
			.query(UUID.class)
			.single();
		var set = this.database.sql("""
				insert into legal_hold (patient_id, reason, set_at, set_by) values (:patient, :reason, :at, :by)
				on conflict (patient_id) where lifted_at is null do nothing""")
			.param("patient", patient.value())
			.param("reason", reason)
			.param("at", OffsetDateTime.now(this.clock))
			.param("by", by(), Types.OTHER)
			.update();
		if (set > 0) {
			this.audit.record(Action.DECIDED, "legal_hold", null, patient.value(), "set");
		}
	}

	public void lift(PatientId patient, String reason) {
		var lifted = this.database.sql("""
				update legal_hold set lifted_at = :at, lifted_by = :by, lift_reason = :reason
				where patient_id = :patient and lifted_at is null""")
			.param("patient", patient.value())
			.param("reason", reason)
			.param("at", OffsetDateTime.now(this.clock))
			.param("by", by(), Types.OTHER)
			.update();
		if (lifted > 0) {
			this.audit.record(Action.DECIDED, "legal_hold", null, patient.value(), "lifted");
		}
	}

	private @Nullable UUID by() {
		return this.staff.id().map(StaffId::value).orElse(null);
	}

}
