package org.seriatim.proof;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Properties;

/** The records as the owner of their database sees them, beside the service. */
interface Records {

	Connection connect() throws SQLException;

	/** Those of a service with an embedded database, wherever it listens now. */
	static Records embeddedIn(Path data) {
		return () -> {
			var port = properties(data.resolve("service.properties")).getProperty("port");
			var passwords = properties(data.resolve("postgresql/credentials.properties"));
			return DriverManager.getConnection("jdbc:postgresql://127.0.0.1:" + port + "/seriatim", "seriatim",
					passwords.getProperty("seriatim"));
		};
	}

	private static Properties properties(Path file) {
		var content = new Properties();
		try (var in = Files.newBufferedReader(file)) {
			content.load(in);
			return content;
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	default void execute(String... statements) {
		try (var connection = connect(); var statement = connection.createStatement()) {
			for (var text : statements) {
				statement.execute(text);
			}
		}
		catch (SQLException ex) {
			throw new IllegalStateException(ex);
		}
	}

	/** The first column of each row. */
	default List<String> column(String query) {
		var values = new ArrayList<String>();
		rows(query).forEach((row) -> values.add(row.get(0)));
		return values;
	}

	default Map<String, String> pairs(String query) {
		var pairs = new LinkedHashMap<String, String>();
		rows(query).forEach((row) -> pairs.put(row.get(0), row.get(1)));
		return pairs;
	}

	default List<List<String>> rows(String query) {
		try (var connection = connect();
				var statement = connection.createStatement();
				var answer = statement.executeQuery(query)) {
			var rows = new ArrayList<List<String>>();
			while (answer.next()) {
				var row = new ArrayList<String>();
				for (int column = 1; column <= answer.getMetaData().getColumnCount(); column++) {
					row.add(answer.getString(column));
				}
				rows.add(row);
			}
			return rows;
		}
		catch (SQLException ex) {
			throw new IllegalStateException(ex);
		}
	}

}
