package org.seriatim.exchange.domain;

import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;

import org.seriatim.bundle.BundleCheck;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Column;
import org.seriatim.bundle.Kind;
import org.seriatim.bundle.Reference;
import org.seriatim.bundle.Row;
import org.seriatim.exchange.ImportResult.FileCounts;
import org.seriatim.exchange.Problem;

import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.RowCallbackHandler;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * The rows of a bundle in temporary tables of the running transaction, beside the
 * problems that were found, so that rules about many rows are questions to the database
 * and a bundle may be larger than memory.
 *
 * @see BundleSection
 */
final class Staging {

	private final JdbcTemplate jdbc;

	private final List<BundleSection> sections;

	private final Map<String, CopyBuffer> rows = new HashMap<>();

	private final CopyBuffer problems;

	private final Map<String, Map<String, Integer>> columnNumbers = new HashMap<>();

	Staging(JdbcTemplate jdbc, List<BundleSection> sections) {
		this.jdbc = jdbc;
		this.sections = sections;
		this.problems = new CopyBuffer(jdbc, "bundle_problem",
				List.of("file_order", "file", "line", "column_number", "column_name", "found", "expected"));
	}

	/** Makes the tables; they go with the transaction. */
	void begin() {
		// An import inside a larger transaction may follow another one.
		this.jdbc.execute("drop table if exists pg_temp.bundle_problem, %s cascade".formatted(this.sections.stream()
			.map((section) -> "pg_temp.incoming_" + section.file().stem())
			.collect(Collectors.joining(", "))));
		this.jdbc.execute("""
				create temporary table bundle_problem (
					file_order int not null,
					file text not null,
					line int,
					column_number int,
					column_name text,
					found text not null,
					expected text not null) on commit drop""");
		for (BundleSection section : this.sections) {
			BundleFile file = section.file();
			String declared = file.columns().stream().map(Staging::declaration).collect(Collectors.joining(", "));
			this.jdbc.execute("""
					create temporary table incoming_%s (
						line int not null,
						damaged boolean not null,
						id uuid not null default uuidv7(),
						state text not null default 'added',
						differing text,
						%s) on commit drop""".formatted(file.stem(), declared));
			List<String> copied = new ArrayList<>(List.of("line", "damaged"));
			copied.addAll(stagedColumns(file));
			this.rows.put(file.name(), new CopyBuffer(this.jdbc, "incoming_" + file.stem(), copied));
		}
		for (BundleSection section : this.sections) {
			BundleFile file = section.file();
			String columns = String.join(", ", stagedColumns(file));
			this.jdbc.execute("""
					create temporary view merged_%1$s as
					select line, id, %2$s from incoming_%1$s
					union all
					select null, id, %2$s from (%3$s) recorded
					where not exists (select from incoming_%1$s incoming where %4$s)""".formatted(file.stem(), columns,
					section.recorded(), equal(file.key(), "incoming", file.key(), "recorded")));
		}
	}

	private static String declaration(Column column) {
		Kind kind = column.kind();
		if (kind instanceof Kind.Moment) {
			return "%1$s timestamptz, %1$s_offset int".formatted(column.name());
		}
		String type = (kind instanceof Kind.Whole) ? "int" : (kind instanceof Kind.Decimal) ? "numeric"
				: (kind instanceof Kind.Day) ? "date" : (kind instanceof Kind.YesNo) ? "boolean" : "text";
		return column.name() + " " + type;
	}

	/** The columns of the file as they are staged, with the offsets beside the times. */
	static List<String> stagedColumns(BundleFile file) {
		List<String> columns = new ArrayList<>();
		for (Column column : file.columns()) {
			columns.add(column.name());
			if (column.kind() instanceof Kind.Moment) {
				columns.add(column.name() + "_offset");
			}
		}
		return columns;
	}

	private static String equal(List<String> columns, String alias, List<String> others, String otherAlias) {
		return IntStream.range(0, columns.size())
			.mapToObj((i) -> "%s.%s = %s.%s".formatted(alias, columns.get(i), otherAlias, others.get(i)))
			.collect(Collectors.joining(" and "));
	}

	/** Stages a row that has a key. */
	void add(Row row) {
		List<@Nullable Object> values = new ArrayList<>();
		values.add(row.line());
		values.add(row.isDamaged());
		for (int i = 0; i < row.file().columns().size(); i++) {
			Object value = row.value(i);
			values.add(value);
			if (row.file().columns().get(i).kind() instanceof Kind.Moment) {
				values.add((value == null) ? null : Kind.Moment.offsetMinutes((OffsetDateTime) value));
			}
		}
		buffer(row.file()).add(values);
	}

	private CopyBuffer buffer(BundleFile file) {
		CopyBuffer buffer = this.rows.get(file.name());
		if (buffer == null) {
			throw new IllegalArgumentException("no section for " + file);
		}
		return buffer;
	}

	/** Notes a problem. */
	void add(Problem problem) {
		this.problems.add(Arrays.asList(order(problem.file()), problem.file(), problem.line(), problem.columnNumber(),
				problem.column(), problem.found(), problem.expected()));
	}

	private int order(String file) {
		for (int i = 0; i < this.sections.size(); i++) {
			if (this.sections.get(i).file().name().equals(file)) {
				return i + 1;
			}
		}
		return 0;
	}

	/** A file was read to its end. */
	void finish(BundleFile file, Map<String, Integer> columnNumbers) {
		buffer(file).flush();
		this.problems.flush();
		this.columnNumbers.put(file.name(), columnNumbers);
		this.jdbc.execute("analyze incoming_" + file.stem());
	}

	/**
	 * Finds the rows that are on record already, with the same values or with others.
	 * Numbers are compared by value, times as points in time.
	 */
	void match(BundleSection section) {
		BundleFile file = section.file();
		List<String> values = file.columns()
			.stream()
			.map(Column::name)
			.filter((column) -> !file.key().contains(column))
			.toList();
		String differing = values.stream()
			.map((column) -> "case when incoming.%1$s is distinct from recorded.%1$s then '%1$s' end".formatted(column))
			.collect(Collectors.joining(", "));
		this.jdbc.update("""
				update incoming_%s incoming set id = recorded.id, state = 'unchanged', differing = concat_ws(', ', %s)
				from (%s) recorded where %s""".formatted(file.stem(), differing, section.recorded(),
				equal(file.key(), "incoming", file.key(), "recorded")));
		this.jdbc.update("update incoming_%s set state = 'changed' where differing <> ''".formatted(file.stem()));
	}

	/** Keys that stand on two lines. */
	void checkKeys(BundleFile file) {
		check(file, null, "a key (%s) that no other line of the file has".formatted(String.join(", ", file.key())), """
				select line, 'the key of line ' || first_line as found
				from (select line, min(line) over (partition by %s) as first_line from incoming_%s) keyed
				where line > first_line""".formatted(String.join(", ", file.key()), file.stem()));
	}

	/** Rows that would change what is on record. */
	void checkUnchanged(BundleFile file) {
		check(file, null, "the values on record; an import that updates would make a new version of the record", """
				select line, 'other values than on record in ' || differing as found
				from incoming_%s where state = 'changed' and not damaged""".formatted(file.stem()));
	}

	/** References that lead nowhere. */
	void checkReferences(BundleFile file) {
		for (Reference reference : file.references()) {
			String columns = reference.columns()
				.stream()
				.map((column) -> "incoming." + column)
				.collect(Collectors.joining(", "));
			// Without a patient there is no scar of the patient; once is enough to say
			// so.
			String wider = file.references()
				.stream()
				.filter((other) -> other.columns().size() < reference.columns().size()
						&& reference.columns().containsAll(other.columns()))
				.map((other) -> " and exists (%s)".formatted(target(other)))
				.collect(Collectors.joining());
			check(file, reference.column(), "%s, in %s or on record".formatted(reference.meant(), reference.file()), """
					select line, concat_ws(', ', %s) as found
					from incoming_%s incoming
					where row(%s) is not null and not exists (%s)%s""".formatted(columns, file.stem(), columns,
					target(reference), wider));
		}
	}

	private String target(Reference reference) {
		BundleFile target = section(reference.file()).file();
		return "select from merged_%s merged where %s".formatted(target.stem(),
				equal(target.key(), "merged", reference.columns(), "incoming"));
	}

	private BundleSection section(String file) {
		return this.sections.stream()
			.filter((section) -> section.file().name().equals(file))
			.findFirst()
			.orElseThrow(() -> new IllegalArgumentException("no section for " + file));
	}

	/** Rows that break a rule about several rows. */
	void check(BundleCheck check) {
		check(section(check.file()).file(), check.column(), check.expected(), check.breaches());
	}

	private void check(BundleFile file, @Nullable String column, String expected, String breaches) {
		JdbcClient.create(this.jdbc)
			.sql("""
					insert into bundle_problem (file_order, file, line, column_number, column_name, found, expected)
					select :file_order, :file, line, cast(:column_number as int), :column_name, coalesce(found, ''), :expected
					from (%s) breach"""
				.formatted(breaches))
			.param("file_order", order(file.name()))
			.param("file", file.name())
			.param("column_number",
					(column == null) ? null : this.columnNumbers.getOrDefault(file.name(), Map.of()).get(column))
			.param("column_name", column)
			.param("expected", expected)
			.update();
	}

	/** Everyone on the staff whom the bundle names. */
	List<String> staff() {
		String names = this.sections.stream()
			.map(BundleSection::file)
			.flatMap((file) -> file.columns()
				.stream()
				.filter((column) -> column.kind() instanceof Kind.Staff)
				.map((column) -> "select %1$s from incoming_%2$s where %1$s is not null".formatted(column.name(),
						file.stem())))
			.collect(Collectors.joining(" union "));
		return this.jdbc.queryForList(names, String.class);
	}

	/** How many rows of the file are new, changed and known. */
	FileCounts counts(BundleFile file) {
		Function<String, String> rows = (state) -> "count(*) filter (where state = '%s')".formatted(state);
		return this.jdbc.queryForObject(
				"select %s, %s, %s from incoming_%s".formatted(rows.apply("added"), rows.apply("changed"),
						rows.apply("unchanged"), file.stem()),
				(result, number) -> new FileCounts(file.name(), result.getLong(1), result.getLong(2),
						result.getLong(3)));
	}

	boolean hasProblems() {
		this.problems.flush();
		return Boolean.TRUE
			.equals(this.jdbc.queryForObject("select exists (select from bundle_problem)", Boolean.class));
	}

	/** Passes on all problems, by file, line and column. */
	void forEachProblem(Consumer<Problem> action) {
		this.problems.flush();
		JdbcTemplate streaming = new JdbcTemplate(this.jdbc.getDataSource());
		streaming.setFetchSize(1_000);
		streaming.query("""
				select file, line, column_number, column_name, found, expected from bundle_problem
				order by file_order, file, line nulls first, column_number nulls first, expected, found""",
				(RowCallbackHandler) (result) -> action.accept(new Problem(result.getString(1),
						result.getObject(2, Integer.class), result.getObject(3, Integer.class), result.getString(4),
						result.getString(5), result.getString(6))));
	}

}
