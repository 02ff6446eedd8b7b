package org.seriatim.database;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import static org.assertj.core.api.Assertions.assertThat;

class EmbeddedDatabaseTests {

	@TempDir
	Path data;

	@Test
	void keepsWhatWasWrittenBetweenStarts() throws SQLException {
		try (EmbeddedDatabase database = EmbeddedDatabase.open(service())) {
			execute(database, "create table note (text text)", "insert into note values ('kept')");
		}
		try (EmbeddedDatabase database = EmbeddedDatabase.open(service())) {
			assertThat(ask(database, "select text from note")).isEqualTo("kept");
		}
	}

	private DataSettings service() {
		return new DataSettings(this.data, false, null);
	}

	private static void execute(EmbeddedDatabase database, String... statements) throws SQLException {
		try (Connection connection = connect(database); var statement = connection.createStatement()) {
			for (String text : statements) {
				statement.execute(text);
			}
		}
	}

	private static String ask(EmbeddedDatabase database, String question) throws SQLException {
		try (Connection connection = connect(database);
				var statement = connection.createStatement();
				var answer = statement.executeQuery(question)) {
			answer.next();
			return answer.getString(1);
		}
	}

	private static Connection connect(EmbeddedDatabase database) throws SQLException {
		return DriverManager.getConnection(database.jdbcUrl(), database.user(), database.password());
	}

}
