package org.seriatim.finding.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.RaisedRedFlag;
import org.seriatim.finding.RedFlags;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
@Transactional(readOnly = true)
class OpenRedFlags implements RedFlags {

	static final List<String> KINDS = Arrays.stream(FindingKind.values())
		.filter(FindingKind::isRedFlag)
		.map(FindingKind::word)
		.toList();

	private final JdbcClient database;

	OpenRedFlags(JdbcClient database) {
		this.database = database;
	}

	@Override
	public List<RaisedRedFlag> openOf(PatientId patient) {
		return this.database.sql("""
				select id, coalesce(raised_at, recorded_at) as raised_at, raised_by, acknowledged_at, acknowledged_by
				from finding
				where patient_id = :patient and kind in (:kinds) and closed_on is null
				order by 2, id""")
			.param("patient", patient.value())
			.param("kinds", KINDS)
			.query((row, index) -> raised(row))
			.list();
	}

	static RaisedRedFlag raised(ResultSet row) throws SQLException {
		return new RaisedRedFlag(new FindingId(row.getObject("id", UUID.class)),
				row.getObject("raised_at", OffsetDateTime.class).toInstant(), staff(row, "raised_by"),
				instant(row, "acknowledged_at"), staff(row, "acknowledged_by"));
	}

	private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
		var at = row.getObject(column, OffsetDateTime.class);
		return (at != null) ? at.toInstant() : null;
	}

	private static @Nullable StaffId staff(ResultSet row, String column) throws SQLException {
		var id = row.getObject(column, UUID.class);
		return (id != null) ? new StaffId(id) : null;
	}

}
