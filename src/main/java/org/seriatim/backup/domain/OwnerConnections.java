package org.seriatim.backup.domain;

import java.io.IOException;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.MigrationInfo;
import org.flywaydb.core.api.configuration.FluentConfiguration;
import org.springframework.core.io.support.PathMatchingResourcePatternResolver;
import org.springframework.jdbc.datasource.AbstractDataSource;
import org.springframework.stereotype.Component;
import org.springframework.util.FileSystemUtils;

/**
 * Connections of the role that owns the records, which is the one that moves the schema
 * forward: only that one sees every table, and may make them anew.
 */
@Component
class OwnerConnections {

	/** What a step of the schema must not do on a transaction that is not its own. */
	private static final Set<String> NOT_ITS_OWN = Set.of("commit", "rollback", "setAutoCommit", "close", "abort",
			"setTransactionIsolation", "setReadOnly");

	private final Flyway flyway;

	OwnerConnections(Flyway flyway) {
		this.flyway = flyway;
	}

	/** One in which text, times and numbers are written in one form, whoever asks. */
	Connection open() throws SQLException {
		Connection connection = this.flyway.getConfiguration().getDataSource().getConnection();
		try {
			connection.setAutoCommit(false);
			return connection;
		}
		catch (SQLException ex) {
			connection.close();
			throw ex;
		}
	}

	/** For the running transaction only: the connection may go back to a pool. */
	static void settle(Connection connection) throws SQLException {
		try (var statement = connection.createStatement()) {
			for (String setting : new String[] { "datestyle = 'ISO, YMD'", "intervalstyle = 'postgres'",
					"timezone = 'UTC'", "extra_float_digits = 3", "bytea_output = 'hex'", "row_security = off",
					"statement_timeout = 0", "lock_timeout = 0", "idle_in_transaction_session_timeout = 0" }) {
				statement.execute("set local " + setting);
			}
		}
	}

	/** The table in which the steps of the schema are kept. */
	String history() {
		return this.flyway.getConfiguration().getTable();
	}

	Flyway flyway() {
		return this.flyway;
	}

	/** All steps of the schema, within the transaction of the connection. */
	Flyway within(Connection connection) {
		return on(connection).load();
	}

	/**
	 * The files of these steps; asked before anything is dropped, or it waits for that.
	 */
	List<String> scripts(Set<String> versions) {
		return Stream.of(this.flyway.info().all())
			.filter((step) -> step.getVersion() != null && versions.contains(step.getVersion().getVersion()))
			.map(MigrationInfo::getScript)
			.toList();
	}

	/**
	 * Takes exactly these steps of the schema, within the transaction of the connection:
	 * a later version may know another one that stands between two of them.
	 */
	void takeExactly(List<String> scripts, Connection connection) throws IOException {
		Path folder = Files.createTempDirectory("seriatim-steps-");
		try {
			for (String script : scripts) {
				copy(script, folder);
			}
			on(connection).locations("filesystem:" + folder).load().migrate();
		}
		finally {
			FileSystemUtils.deleteRecursively(folder);
		}
	}

	private void copy(String script, Path folder) throws IOException {
		var resources = new PathMatchingResourcePatternResolver();
		for (var location : this.flyway.getConfiguration().getLocations()) {
			var resource = resources.getResource(location.getDescriptor() + "/" + script);
			if (resource.exists()) {
				try (var in = resource.getInputStream()) {
					Files.copy(in, folder.resolve(script));
				}
				return;
			}
		}
		throw new IOException("the step " + script + " is nowhere");
	}

	private FluentConfiguration on(Connection connection) {
		return Flyway.configure(this.flyway.getConfiguration().getClassLoader())
			.configuration(this.flyway.getConfiguration())
			.outOfOrder(true)
			.dataSource(new One(connection));
	}

	/** Lends one connection again and again, and keeps its transaction open. */
	private static final class One extends AbstractDataSource {

		private final Connection connection;

		One(Connection connection) {
			this.connection = (Connection) Proxy.newProxyInstance(Connection.class.getClassLoader(),
					new Class<?>[] { Connection.class }, (proxy, method, arguments) -> {
						if (NOT_ITS_OWN.contains(method.getName()) && (arguments == null || arguments.length <= 1)) {
							return null;
						}
						try {
							return method.invoke(connection, arguments);
						}
						catch (InvocationTargetException ex) {
							throw ex.getCause();
						}
					});
		}

		@Override
		public Connection getConnection() {
			return this.connection;
		}

		@Override
		public Connection getConnection(String user, String password) {
			return this.connection;
		}

	}

}
