package org.seriatim.database;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import javax.sql.DataSource;

/**
 * What the role of the service may do in the database: read and write rows, and nothing
 * to the tables themselves. It is given after every migration, for all tables that are
 * there then, so that a table of a later migration needs nobody to think of it. A table
 * on which the service may do less says so in its comment,
 * {@code Rights of the service: select,
 * insert}, in the migration that makes it.
 */
public final class ServiceRights {

	/**
	 * Changes what differs only, one process at a time. A function that acts with the
	 * owner's rights sees none of the temporary tables that its caller can make.
	 */
	private static final String GIVE = """
			do $$
			declare
				service constant name := current_setting('seriatim.service');
				thing record;
				wanted text[];
				one text;
			begin
				if not has_schema_privilege(service, 'public', 'usage') then
					execute format('grant usage on schema public to %I', service);
				end if;
				for thing in
					select oid, relname, relkind, oid::regclass::text as name, obj_description(oid, 'pg_class') as said
					from pg_class
					where relnamespace = 'public'::regnamespace and relkind in ('r', 'p', 'v')
						and relowner = current_user::regrole
				loop
					wanted := case
						when thing.relname = current_setting('seriatim.history') or thing.relkind = 'v' then array['select']
						when thing.said ~ '^Rights of the service: ' then
							string_to_array(substring(thing.said from '^Rights of the service: ([a-z, ]+)'), ', ')
						else array['select', 'insert', 'update', 'delete', 'maintain'] end;
					foreach one in array array['select', 'insert', 'update', 'delete', 'truncate', 'references', 'trigger',
							'maintain'] loop
						if has_table_privilege(service, thing.oid, one) <> (one = any(wanted)) then
							execute format(case when one = any(wanted) then 'grant %s on %s to %I' else 'revoke %s on %s from %I' end,
								one, thing.name, service);
						end if;
					end loop;
				end loop;
				for thing in
					select oid, oid::regclass::text as name from pg_class
					where relnamespace = 'public'::regnamespace and relowner = current_user::regrole
						and case relkind when 'S' then not has_sequence_privilege(service, oid, 'usage') else false end
				loop
					execute format('grant usage on sequence %s to %I', thing.name, service);
				end loop;
				for thing in
					select oid, oid::regprocedure::text as name, proconfig from pg_proc
					where pronamespace = 'public'::regnamespace and prosecdef and proowner = current_user::regrole
				loop
					if thing.proconfig is distinct from array['search_path=public, pg_temp'] then
						execute format('alter function %s set search_path = public, pg_temp', thing.name);
					end if;
					if has_function_privilege('public', thing.oid, 'execute') then
						execute format('revoke execute on function %s from public', thing.name);
					end if;
					if not has_function_privilege(service, thing.oid, 'execute') then
						execute format('grant execute on function %s to %I', thing.name, service);
					end if;
				end loop;
			end $$""";

	private static final long LOCK = 0x5e71a71bL;

	private final String service;

	private final String history;

	/**
	 * @param service the role that the service works with
	 * @param history the table in which the migrations keep their own record
	 */
	public ServiceRights(String service, String history) {
		this.service = service;
		this.history = history;
	}

	/**
	 * Gives the service its rights, and takes what it has beyond them.
	 * @param owner connections of the role that owns the tables
	 */
	public void give(DataSource owner) throws SQLException {
		try (Connection connection = owner.getConnection()) {
			boolean auto = connection.getAutoCommit();
			connection.setAutoCommit(false);
			try (var statement = connection.createStatement()) {
				statement.execute("select pg_advisory_xact_lock(%d)".formatted(LOCK));
				set(connection, "seriatim.service", this.service);
				set(connection, "seriatim.history", this.history);
				statement.execute(GIVE);
				connection.commit();
			}
			catch (SQLException ex) {
				connection.rollback();
				throw ex;
			}
			finally {
				connection.setAutoCommit(auto);
			}
		}
	}

	private static void set(Connection connection, String setting, String value) throws SQLException {
		try (PreparedStatement statement = connection.prepareStatement("select set_config(?, ?, true)")) {
			statement.setString(1, setting);
			statement.setString(2, value);
			statement.execute();
		}
	}

	/** The role behind some connections. */
	static String roleOf(DataSource source) throws SQLException {
		try (Connection connection = source.getConnection()) {
			return ask(connection, "select current_user").get(0);
		}
	}

	/** Whether a role can do whatever another one may. */
	static boolean canActAs(DataSource source, String other) throws SQLException {
		try (Connection connection = source.getConnection()) {
			return !ask(connection, "select rolname from pg_roles where rolname = ? and pg_has_role(oid, 'member')",
					other)
				.isEmpty();
		}
	}

	/**
	 * The tables on which the service could do more than their comments say, each with
	 * the right.
	 */
	static List<String> excess(DataSource service) throws SQLException {
		try (Connection connection = service.getConnection()) {
			return ask(connection,
					"""
							select one || ' on ' || oid::regclass from pg_class,
								unnest(array['insert', 'update', 'delete', 'truncate', 'references', 'trigger']) one
							where relnamespace = 'public'::regnamespace and relkind in ('r', 'p')
								and obj_description(oid, 'pg_class') ~ '^Rights of the service: '
								and has_table_privilege(oid, one) and one <> all(string_to_array(
									substring(obj_description(oid, 'pg_class') from '^Rights of the service: ([a-z, ]+)'), ', '))
							union all
							select 'create on schema public' where has_schema_privilege('public', 'create')
							order by 1""");
		}
	}

	private static List<String> ask(Connection connection, String question, String... parameters) throws SQLException {
		try (PreparedStatement statement = connection.prepareStatement(question)) {
			for (int at = 0; at < parameters.length; at++) {
				statement.setString(at + 1, parameters[at]);
			}
			try (ResultSet rows = statement.executeQuery()) {
				List<String> answers = new ArrayList<>();
				while (rows.next()) {
					answers.add(rows.getString(1));
				}
				return answers;
			}
		}
	}

}
