package org.seriatim;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * A step of the schema, read statement by statement for whether the version before it can
 * go on working. What only adds is told by its form; what isn't needs the comment
 * {@code -- Works beside the version before: why} above it; and a step that takes away
 * names itself in {@code schema_step_needed}, so that earlier versions don't start on it.
 */
final class ExpandingMigration {

	private static final String CLAIM = "works beside the version before: ";

	private static final Pattern NEW_TABLE = Pattern.compile("create table (?:if not exists )?(\\w+) .*");

	private static final Pattern INDEX = Pattern
		.compile("create (unique )?index (?:concurrently )?(?:if not exists )?(?:\\w+ )?on (\\w+) .*");

	private static final Pattern TRIGGER = Pattern
		.compile("create (?:or replace )?(?:constraint )?trigger \\w+ .*? on (\\w+) .*");

	private static final Pattern ALTER = Pattern.compile("alter table (?:if exists )?(?:only )?(\\w+) (.*)");

	private static final Pattern INSERT = Pattern.compile("insert into (\\w+) .*");

	/** A column that a version which does not know it leaves empty, or at its default. */
	private static final Pattern OPTIONAL_COLUMN = Pattern
		.compile("add column (?:if not exists )?\\w+ (?!.*\\b(unique|primary key)\\b)"
				+ "(?:(?!.*\\bnot null\\b).*|.*\\bdefault\\b.*)");

	private static final Pattern ADDS = Pattern
		.compile("(?:comment on|create (?:sequence|type|extension|function|view|domain)) .*");

	private final Set<String> newTables = new HashSet<>();

	private final List<String> faults = new ArrayList<>();

	private ExpandingMigration() {
	}

	/** The statements of a step that may stop the version before it. */
	static List<String> faults(String step, String sql) {
		var migration = new ExpandingMigration();
		var statements = statements(sql);
		boolean needed = statements.stream()
			.anyMatch((one) -> one.text().matches("insert into schema_step_needed .*'" + step + "'.*"));
		statements.forEach(migration::read);
		return needed ? List.of() : migration.faults;
	}

	/**
	 * @param text in lower case, with one space between words and without comments
	 */
	private record Statement(String text, boolean claimed) {
	}

	private void read(Statement statement) {
		var created = NEW_TABLE.matcher(statement.text());
		if (created.matches()) {
			this.newTables.add(created.group(1));
		}
		else if (!onlyAdds(statement.text()) && !statement.claimed()) {
			this.faults.add(statement.text());
		}
	}

	private boolean onlyAdds(String text) {
		if (ADDS.matcher(text).matches()) {
			return true;
		}
		var index = INDEX.matcher(text);
		if (index.matches()) {
			return index.group(1) == null || this.newTables.contains(index.group(2));
		}
		var trigger = TRIGGER.matcher(text);
		if (trigger.matches()) {
			return this.newTables.contains(trigger.group(1));
		}
		var insert = INSERT.matcher(text);
		if (insert.matches()) {
			return this.newTables.contains(insert.group(1));
		}
		var alter = ALTER.matcher(text);
		return alter.matches() && (this.newTables.contains(alter.group(1)) || split(alter.group(2), ',').stream()
			.allMatch((part) -> OPTIONAL_COLUMN.matcher(part.strip()).matches()));
	}

	private static List<Statement> statements(String sql) {
		var statements = new ArrayList<Statement>();
		for (String one : split(sql, ';')) {
			boolean claimed = one.toLowerCase(Locale.ROOT).contains("-- " + CLAIM);
			String text = one.replaceAll("(?m)--.*$", "").replaceAll("\\s+", " ").strip().toLowerCase(Locale.ROOT);
			if (!text.isEmpty()) {
				statements.add(new Statement(text, claimed));
			}
		}
		return statements;
	}

	/** At a mark that stands in no text, comment, body of a function or brackets. */
	private static List<String> split(String sql, char mark) {
		var parts = new ArrayList<String>();
		int depth = 0;
		int from = 0;
		for (int at = 0; at < sql.length(); at++) {
			char next = sql.charAt(at);
			if (next == '\'') {
				at = sql.indexOf('\'', at + 1);
			}
			else if (sql.startsWith("--", at)) {
				at = sql.indexOf('\n', at);
			}
			else if (sql.startsWith("$$", at)) {
				at = sql.indexOf("$$", at + 2) + 1;
			}
			else if (next == '(' || next == ')') {
				depth += (next == '(') ? 1 : -1;
			}
			else if (next == mark && depth == 0) {
				parts.add(sql.substring(from, at));
				from = at + 1;
			}
			if (at < 0) {
				break;
			}
		}
		parts.add(sql.substring(from));
		return parts;
	}

}
