package org.seriatim.database;

import java.sql.Connection;
import java.sql.SQLException;
import javax.sql.DataSource;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

import org.springframework.jdbc.CannotGetJdbcConnectionException;
import org.springframework.jdbc.UncategorizedSQLException;
import org.springframework.stereotype.Component;

/**
 * Work that one of the services on a database does while the others leave it alone. The
 * claim is a lock of the database on a connection of its own: it ends with the work, and
 * with the service if that is killed, so that nobody has to release it. What was done
 * already is for the work itself to see, in what it left on record; it looks after it has
 * the claim.
 */
@Component
public class OneServiceAtATime {

	private static final Logger logger = LoggerFactory.getLogger(OneServiceAtATime.class);

	private final DataSource database;

	OneServiceAtATime(DataSource database) {
		this.database = database;
	}

	/**
	 * Does the work unless another service, or another thread of this one, is at it.
	 * @param name of the work, the same in all services
	 * @param work in its own transactions
	 * @return whether it was done here; false if another one is at it
	 */
	public boolean run(String name, Runnable work) {
		Connection claim = open();
		try {
			if (!claimed(claim, name)) {
				return false;
			}
			work.run();
			return true;
		}
		finally {
			giveUp(claim, name);
		}
	}

	/** Whether any of the services is at the work. */
	public boolean isAtWork(String name) {
		try (var connection = open(); var statement = connection.prepareStatement("""
				select exists (select from pg_locks, hashtextextended('work: ' || ?, 0) as key
					where locktype = 'advisory' and granted and objsubid = 1
						and database = (select oid from pg_database where datname = current_database())
						and classid::bigint = (key >> 32) & 4294967295 and objid::bigint = key & 4294967295)""")) {
			statement.setString(1, name);
			try (var answer = statement.executeQuery()) {
				answer.next();
				return answer.getBoolean(1);
			}
		}
		catch (SQLException ex) {
			throw new UncategorizedSQLException("the claims of a work", null, ex);
		}
	}

	private Connection open() {
		try {
			return this.database.getConnection();
		}
		catch (SQLException ex) {
			throw new CannotGetJdbcConnectionException("No connection for the claim of a work", ex);
		}
	}

	private static boolean claimed(Connection connection, String name) {
		try {
			connection.setAutoCommit(false);
			try (var statement = connection
				.prepareStatement("select pg_try_advisory_xact_lock(hashtextextended('work: ' || ?, 0))")) {
				statement.setString(1, name);
				try (var answer = statement.executeQuery()) {
					answer.next();
					return answer.getBoolean(1);
				}
			}
		}
		catch (SQLException ex) {
			throw new UncategorizedSQLException("the claim of a work", null, ex);
		}
	}

	private static void giveUp(Connection connection, String name) {
		try (connection) {
			connection.rollback();
			connection.setAutoCommit(true);
		}
		catch (SQLException ex) {
			// with the connection the claim is gone as well
			logger.debug("The connection that claimed the work {} broke", name, ex);
		}
	}

}
