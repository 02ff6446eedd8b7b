package org.seriatim.followup.domain;

import java.util.Optional;

import org.seriatim.assessment.Repeatability;
import org.seriatim.followup.MeasurementError;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
class SnapshotError implements MeasurementError {

	private final JdbcClient database;

	SnapshotError(JdbcClient database) {
		this.database = database;
	}

	@Override
	@Transactional(readOnly = true)
	public Optional<Repeatability> current() {
		return this.database.sql("""
				select content, repeatability_minimum_pairs, repeatability_minimum_patients
				from snapshot, protocol_version
				where snapshot.number = (select max(number) from snapshot)
					and protocol_version.number = (select max(number) from protocol_version)""")
			.query((row, index) -> AdviceJson.read(row.getString("content"), ClinicFigures.class)
				.ratings()
				.repeatability(row.getInt("repeatability_minimum_pairs"), row.getInt("repeatability_minimum_patients")))
			.optional();
	}

}
