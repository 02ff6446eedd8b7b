package org.seriatim.backup.domain;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * What the catalogue says of the records' schema, which is the one that a connection
 * finds first. Nothing here names a table of another module but those that are left out
 * of a backup on purpose.
 */
final class Schema {

	/**
	 * Sign-ins that go on: whoever was signed in then is not signed in again by a
	 * restore.
	 */
	private static final Set<String> LEFT_OUT = Set.of("spring_session", "spring_session_attributes");

	/** What belongs to an extension comes with it. */
	private static final String OF_EXTENSION = """
			exists (select from pg_depend d
				where d.objid = %s and d.classid = '%s'::regclass and d.deptype = 'e')""";

	private final Connection connection;

	private final String history;

	/**
	 * @param history the table in which the steps of the schema are kept, which a restore
	 * makes by itself
	 */
	Schema(Connection connection, String history) {
		this.connection = connection;
		this.history = history;
	}

	/**
	 * A table with what is needed to read it out and in.
	 *
	 * @param columns those that hold something of their own, in their order
	 * @param key the columns of the primary key, in its order
	 */
	record Table(String name, List<String> columns, List<String> key) {

		private String columnList() {
			return this.columns.stream().map(Schema::quoted).collect(Collectors.joining(", "));
		}

		/**
		 * In the order of the key, and text in the order of its code points, so that the
		 * same rows always give the same bytes.
		 */
		String copyOut() {
			String order = this.key.isEmpty() ? "cast(copied as text) collate \"C\"" : String.join(", ", this.key);
			return "copy (select %s from %s copied order by %s) to stdout (format text, header, encoding 'UTF8')"
				.formatted(columnList(), quoted(this.name), order);
		}

		/** Refuses other columns, or the same in another order. */
		String copyIn() {
			return "copy %s (%s) from stdin (format text, header match, encoding 'UTF8')".formatted(quoted(this.name),
					columnList());
		}

	}

	/** How a sequence stands. */
	record SequenceState(String name, long last, boolean called) {
	}

	/** All tables that a backup holds, by name. */
	List<Table> tables() throws SQLException {
		refuseOtherSchemas();
		var tables = new ArrayList<Table>();
		for (String name : names("""
				select relname from pg_class c
				where relnamespace = current_schema()::regnamespace and relkind = 'r' and relpersistence = 'p'
					and not %s
				order by relname collate "C\"""".formatted(OF_EXTENSION.formatted("c.oid", "pg_class")))) {
			if (!LEFT_OUT.contains(name) && !name.equals(this.history)) {
				tables.add(new Table(name, names("""
						select attname from pg_attribute
						where attrelid = cast(? as regclass) and attnum > 0 and not attisdropped and attgenerated = ''
						order by attnum""", quoted(name)), names("""
						select quote_ident(attname) || case when attcollation <> 0 then ' collate "C"' else '' end
						from pg_index
							cross join unnest(indkey) with ordinality keyed (number, place)
							join pg_attribute on attrelid = indrelid and attnum = number
						where indrelid = cast(? as regclass) and indisprimary
						order by place""", quoted(name))));
			}
		}
		return tables;
	}

	/** A table that nobody looks for is lost without a word; then rather no backup. */
	private void refuseOtherSchemas() throws SQLException {
		var others = names("""
				select relnamespace::regnamespace || '.' || relname from pg_class c
				where relkind in ('r', 'p') and relpersistence <> 't'
					and relnamespace <> current_schema()::regnamespace
					and relnamespace::regnamespace::text not like 'pg\\_%%'
					and relnamespace <> 'information_schema'::regnamespace
					and pg_has_role(relowner, 'member') and not %s
				order by 1""".formatted(OF_EXTENSION.formatted("c.oid", "pg_class")));
		if (!others.isEmpty()) {
			throw new BackupRefused(
					"The database holds tables that a backup would leave out: %s. ".formatted(String.join(", ", others))
							+ "Give other programs a database of their own.");
		}
	}

	List<SequenceState> sequences() throws SQLException {
		var sequences = new ArrayList<SequenceState>();
		for (String name : names("""
				select relname from pg_class c
				where relnamespace = current_schema()::regnamespace and relkind = 'S' and not %s
				order by relname collate "C\"""".formatted(OF_EXTENSION.formatted("c.oid", "pg_class")))) {
			try (var statement = this.connection.createStatement();
					ResultSet state = statement.executeQuery("select last_value, is_called from " + quoted(name))) {
				state.next();
				sequences.add(new SequenceState(name, state.getLong(1), state.getBoolean(2)));
			}
		}
		return sequences;
	}

	List<About.Step> steps() throws SQLException {
		var steps = new ArrayList<About.Step>();
		try (var statement = this.connection.createStatement(); ResultSet rows = statement.executeQuery("""
				select version, coalesce(checksum, 0) from %s
				where success and version is not null order by installed_rank""".formatted(quoted(this.history)))) {
			while (rows.next()) {
				steps.add(new About.Step(rows.getString(1), rows.getString(2)));
			}
		}
		return steps;
	}

	/** Drops all that the steps of the schema have made, but no extension. */
	void drop() throws SQLException {
		drop("select 'view', relname from pg_class c where relkind = 'v' and %s", "relnamespace", "c.oid", "pg_class");
		drop("select 'materialized view', relname from pg_class c where relkind = 'm' and %s", "relnamespace", "c.oid",
				"pg_class");
		drop("select 'table', relname from pg_class c where relkind in ('r', 'p') and %s", "relnamespace", "c.oid",
				"pg_class");
		drop("select 'sequence', relname from pg_class c where relkind = 'S' and %s", "relnamespace", "c.oid",
				"pg_class");
		drop("select 'type', typname from pg_type t where typtype in ('c', 'd', 'e', 'r') and typrelid = 0 and %s",
				"typnamespace", "t.oid", "pg_type");
		for (String routine : names("""
				select cast(cast(oid as regprocedure) as text) from pg_proc p
				where pronamespace = current_schema()::regnamespace and not %s"""
			.formatted(OF_EXTENSION.formatted("p.oid", "pg_proc")))) {
			execute("drop routine if exists %s cascade".formatted(routine));
		}
	}

	private void drop(String question, String namespace, String id, String catalogue) throws SQLException {
		String inSchema = "%s = current_schema()::regnamespace and not %s".formatted(namespace,
				OF_EXTENSION.formatted(id, catalogue));
		try (var statement = this.connection.createStatement();
				ResultSet rows = statement.executeQuery(question.formatted(inSchema))) {
			var drops = new ArrayList<String>();
			while (rows.next()) {
				drops.add("drop %s if exists %s cascade".formatted(rows.getString(1), quoted(rows.getString(2))));
			}
			for (String drop : drops) {
				execute(drop);
			}
		}
	}

	/**
	 * Takes away what would refuse or change rows that come back as they were: foreign
	 * keys, which are asked all at once when they come again, and triggers, which have
	 * done their work when the row was written. Empties the tables of what the steps of
	 * the schema put there.
	 * @return the statements that bring them again
	 */
	List<String> openForLoading() throws SQLException {
		var again = new ArrayList<String>();
		for (String[] key : rows("""
				select cast(conrelid::regclass as text), quote_ident(conname), pg_get_constraintdef(oid)
				from pg_constraint
				where contype = 'f' and conparentid = 0 and connamespace = current_schema()::regnamespace
				order by 1, 2""")) {
			execute("alter table %s drop constraint %s".formatted(key[0], key[1]));
			again.add("alter table %s add constraint %s %s".formatted(key[0], key[1], key[2]));
		}
		for (String[] trigger : rows(
				"""
						select cast(tgrelid::regclass as text), quote_ident(tgname),
							case tgenabled when 'O' then 'enable' when 'A' then 'enable always' when 'R' then 'enable replica' end
						from pg_trigger join pg_class c on c.oid = tgrelid
						where not tgisinternal and tgenabled <> 'D' and relnamespace = current_schema()::regnamespace
						order by 1, 2""")) {
			execute("alter table %s disable trigger %s".formatted(trigger[0], trigger[1]));
			again.add("alter table %s %s trigger %s".formatted(trigger[0], trigger[2], trigger[1]));
		}
		var tables = tables();
		if (!tables.isEmpty()) {
			execute("truncate "
					+ tables.stream().map((table) -> quoted(table.name())).collect(Collectors.joining(", ")));
		}
		return again;
	}

	void execute(String sql) throws SQLException {
		try (var statement = this.connection.createStatement()) {
			statement.execute(sql);
		}
	}

	private List<String[]> rows(String question) throws SQLException {
		var found = new ArrayList<String[]>();
		try (var statement = this.connection.createStatement(); ResultSet rows = statement.executeQuery(question)) {
			while (rows.next()) {
				found.add(new String[] { rows.getString(1), rows.getString(2), rows.getString(3) });
			}
		}
		return found;
	}

	private List<String> names(String question, String... parameters) throws SQLException {
		var names = new ArrayList<String>();
		try (PreparedStatement statement = this.connection.prepareStatement(question)) {
			for (int at = 0; at < parameters.length; at++) {
				statement.setString(at + 1, parameters[at]);
			}
			try (ResultSet rows = statement.executeQuery()) {
				while (rows.next()) {
					names.add(rows.getString(1));
				}
			}
		}
		return names;
	}

	static String quoted(String name) {
		return '"' + name.replace("\"", "\"\"") + '"';
	}

}
