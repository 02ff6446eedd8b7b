package org.seriatim.support;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.Properties;
import java.util.function.Function;

import javax.sql.DataSource;

import com.zaxxer.hikari.HikariDataSource;
import org.jspecify.annotations.Nullable;

import org.springframework.jdbc.datasource.AbstractDataSource;

/**
 * The database behind the pool of a test context. It can be exchanged for a fresh one
 * between two tests, without a new context.
 */
final class TestDatabase implements AutoCloseable {

	private final TestServer server = TestServer.running();

	private final HikariDataSource pool = new Pool();

	private final DataSource owner = new Current(TestServer.Database::owner);

	private volatile TestServer.Database current = this.server.create();

	/**
	 * What a starting context writes is not part of any test, so the first one is used.
	 */
	private boolean used = true;

	private @Nullable Class<?> keptFor;

	private final Statements statements;

	TestDatabase(Statements statements) {
		this.statements = statements;
		this.pool.setDataSource(new Current(TestServer.Database::service));
	}

	HikariDataSource pool() {
		return this.pool;
	}

	/** Connections of the role that owns the tables. */
	DataSource owner() {
		return this.owner;
	}

	/**
	 * Makes sure that nothing is in the database that another test, or the start of the
	 * context, has written.
	 */
	void refresh() {
		if (this.used) {
			TestServer.Database old = this.current;
			this.current = this.server.create();
			this.server.drop(old);
			this.used = false;
		}
		this.keptFor = null;
	}

	void use() {
		this.used = true;
	}

	void keepFor(Class<?> testClass) {
		this.keptFor = testClass;
	}

	boolean isKeptFor(Class<?> testClass) {
		return testClass.equals(this.keptFor);
	}

	@Override
	public void close() {
		this.server.drop(this.current);
	}

	/**
	 * Lends no connection to a database of a test before. Emptying the pool would not do:
	 * it may be adding a connection at that very moment.
	 */
	private final class Pool extends HikariDataSource {

		@Override
		public Connection getConnection() throws SQLException {
			Connection connection = super.getConnection();
			while (!TestDatabase.this.current.url().equals(connection.getMetaData().getURL())) {
				evictConnection(connection);
				connection.close();
				connection = super.getConnection();
			}
			return connection;
		}

	}

	private final class Current extends AbstractDataSource {

		private final Function<TestServer.Database, TestServer.Account> account;

		private Current(Function<TestServer.Database, TestServer.Account> account) {
			this.account = account;
		}

		@Override
		public Connection getConnection() throws SQLException {
			TestServer.Account chosen = this.account.apply(TestDatabase.this.current);
			return getConnection(chosen.name(), chosen.password());
		}

		@Override
		public Connection getConnection(String user, String password) throws SQLException {
			Properties properties = new Properties();
			// the pool hands these to a driver only, not to a source like this one
			properties.putAll(TestDatabase.this.pool.getDataSourceProperties());
			properties.setProperty("user", user);
			properties.setProperty("password", password);
			return TestDatabase.this.statements
				.overhear(DriverManager.getConnection(TestDatabase.this.current.url(), properties));
		}

	}

}
