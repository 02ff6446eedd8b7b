package org.seriatim.access.domain;

import java.sql.Types;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

@Component
class DatabaseAuditLog implements AuditLog {

	private final JdbcClient database;

	private final CurrentStaff current;

	private final Clock clock;

	DatabaseAuditLog(JdbcClient database, CurrentStaff current, Clock clock) {
		this.database = database;
		this.current = current;
		this.clock = clock;
	}

	@Override
	public void record(Action action, String kind, @Nullable UUID entry, @Nullable UUID patient,
			@Nullable String detail) {
		this.database.sql("""
				insert into audit_entry (at, staff_id, action, kind, entry_id, patient_id, detail)
				values (:at, :staff, :action, :kind, :entry, :patient, :detail)""")
			.param("at", OffsetDateTime.now(this.clock))
			.param("staff", this.current.id().map(StaffId::value).orElse(null), Types.OTHER)
			.param("action", action.name().toLowerCase(Locale.ROOT))
			.param("kind", kind)
			.param("entry", entry, Types.OTHER)
			.param("patient", patient, Types.OTHER)
			.param("detail", detail, Types.VARCHAR)
			.update();
	}

}
