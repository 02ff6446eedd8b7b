package org.seriatim.assessment.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarType;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
class RecordedScars implements TrackedScars {

	private static final String SCAR = """
			select id, label, region, type, map_x, map_y, first_recorded_on
			from scar\s""";

	private final JdbcClient database;

	RecordedScars(JdbcClient database) {
		this.database = database;
	}

	@Override
	@Transactional(readOnly = true)
	public List<TrackedScar> of(PatientId patient) {
		return this.database.sql(
				SCAR + """
						where patient_id = :patient
						order by regexp_replace(label, '[0-9]+$', ''), substring(label from '[0-9]+$')::numeric nulls first, label""")
			.param("patient", patient.value())
			.query(RecordedScars::scar)
			.list();
	}

	@Override
	@Transactional(readOnly = true)
	public Optional<TrackedScar> byId(ScarId id) {
		return this.database.sql(SCAR + "where id = :id").param("id", id.value()).query(RecordedScars::scar).optional();
	}

	private static TrackedScar scar(ResultSet row, int number) throws SQLException {
		return new TrackedScar(new ScarId(row.getObject("id", UUID.class)), row.getString("label"),
				Region.valueOf(row.getString("region").toUpperCase(Locale.ROOT)),
				ScarType.valueOf(row.getString("type").toUpperCase(Locale.ROOT)), row.getBigDecimal("map_x"),
				row.getBigDecimal("map_y"), row.getObject("first_recorded_on", LocalDate.class));
	}

}
