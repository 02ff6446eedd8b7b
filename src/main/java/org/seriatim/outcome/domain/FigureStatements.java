package org.seriatim.outcome.domain;

import java.sql.SQLException;
import java.sql.Statement;

import javax.sql.DataSource;

import org.postgresql.PGStatement;

import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Statements over a whole clinic, planned each time for the values that they are asked
 * with.
 * <p>
 * A statement that is sent often is otherwise kept on the server with a plan for any
 * values. Without the days of a filter the planner then expects a handful of sessions and
 * joins them row by row: with 30,000 sessions the tenth opening of a page took minutes.
 * Planning takes milliseconds.
 */
@Component
class FigureStatements {

	private final JdbcClient client;

	FigureStatements(DataSource source) {
		this.client = JdbcClient.create(new PlannedEachTime(source));
	}

	JdbcClient.StatementSpec sql(String sql) {
		return this.client.sql(sql);
	}

	private static final class PlannedEachTime extends JdbcTemplate {

		PlannedEachTime(DataSource source) {
			super(source);
		}

		@Override
		protected void applyStatementSettings(Statement statement) throws SQLException {
			super.applyStatementSettings(statement);
			statement.unwrap(PGStatement.class).setPrepareThreshold(0);
		}

	}

}
