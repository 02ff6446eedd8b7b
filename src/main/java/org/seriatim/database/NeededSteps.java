package org.seriatim.database;

import java.sql.SQLException;
import java.util.HashSet;
import java.util.Set;
import javax.sql.DataSource;

import org.flywaydb.core.api.MigrationVersion;

/**
 * The steps of the schema without which a version must not work on it, as the steps
 * themselves say in a table.
 */
final class NeededSteps {

	private final Set<MigrationVersion> steps;

	private NeededSteps(Set<MigrationVersion> steps) {
		this.steps = steps;
	}

	/**
	 * @param owner connections to a schema in which the table is, as it is in every one
	 * that holds a step that this version does not know
	 */
	static NeededSteps of(DataSource owner) throws SQLException {
		try (var connection = owner.getConnection();
				var statement = connection.createStatement();
				var rows = statement.executeQuery("select step from schema_step_needed")) {
			var steps = new HashSet<MigrationVersion>();
			while (rows.next()) {
				steps.add(MigrationVersion.fromVersion(rows.getString(1)));
			}
			return new NeededSteps(steps);
		}
	}

	boolean contains(String step) {
		return this.steps.contains(MigrationVersion.fromVersion(step));
	}

}
