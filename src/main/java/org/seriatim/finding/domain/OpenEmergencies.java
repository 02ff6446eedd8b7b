package org.seriatim.finding.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import org.seriatim.finding.FindingKind;
import org.seriatim.finding.RaisedRedFlag;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Possible emergencies of all patients that no practitioner has closed. */
@Service
@Transactional(readOnly = true)
public class OpenEmergencies {

	private final JdbcClient database;

	OpenEmergencies(JdbcClient database) {
		this.database = database;
	}

	/** One of them, with what it is: for who may see findings. */
	public record OpenEmergency(PatientId patient, FindingKind kind, RaisedRedFlag raised) {
	}

	/**
	 * Those that nobody has acknowledged first, and of these the one that waits longest.
	 */
	public List<OpenEmergency> all() {
		return this.database.sql("""
				select id, patient_id, kind, coalesce(raised_at, recorded_at) as raised_at, raised_by, acknowledged_at,
					acknowledged_by
				from finding
				where kind in (:kinds) and closed_on is null
				order by acknowledged_at is not null, 4, id""")
			.param("kinds", OpenRedFlags.KINDS)
			.query((row, index) -> emergency(row))
			.list();
	}

	private static OpenEmergency emergency(ResultSet row) throws SQLException {
		return new OpenEmergency(new PatientId(row.getObject("patient_id", UUID.class)),
				FindingKind.valueOf(row.getString("kind").toUpperCase(Locale.ROOT)), OpenRedFlags.raised(row));
	}

}
