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

	private final CurrentProvenance provenance;

	private final ServiceKey key;

	private final Clock clock;

	DatabaseAuditLog(JdbcClient database, CurrentStaff current, CurrentProvenance provenance, ServiceKey key,
			Clock clock) {
		this.database = database;
		this.current = current;
		this.provenance = provenance;
		this.key = key;
		this.clock = clock;
	}

	@Override
	public void record(Action action, String kind, @Nullable UUID entry, @Nullable UUID patient,
			@Nullable String detail) {
		var from = this.provenance.get();
		var written = new AuditEntry(this.clock.instant(), this.current.id().map(StaffId::value).orElse(null),
				action.name().toLowerCase(Locale.ROOT), kind, entry, patient, detail, from.means().word(), from.id(),
				from.command(), from.address(), from.emergency(), UUID.randomUUID());
		this.database
			.sql("""
					with written as (
						insert into audit_entry (at, staff_id, action, kind, entry_id, patient_id, detail, origin, origin_id,
							command, address, emergency_id, uid, mark)
						values (:at, :staff, :action, :kind, :entry, :patient, :detail, :origin, :origin_id, :command, :address,
							:emergency, :uid, :mark)
						returning id)
					insert into audit_waiting (entry_id) select id from written""")
			.param("at", OffsetDateTime.ofInstant(written.at(), this.clock.getZone()))
			.param("staff", written.staff(), Types.OTHER)
			.param("action", written.action())
			.param("kind", written.kind())
			.param("entry", written.entry(), Types.OTHER)
			.param("patient", written.patient(), Types.OTHER)
			.param("detail", written.detail(), Types.VARCHAR)
			.param("origin", written.origin())
			.param("origin_id", written.originId(), Types.OTHER)
			.param("command", written.command(), Types.VARCHAR)
			.param("address", written.address(), Types.VARCHAR)
			.param("emergency", written.emergency(), Types.OTHER)
			.param("uid", written.uid(), Types.OTHER)
			.param("mark", new AuditMarks(this.key).mark(written.content()))
			.update();
	}

}
