package org.seriatim.privacy.domain;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.PatientPart;
import org.seriatim.support.DatabaseTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Asks the database's own catalogue which tables hold anything of a patient, so that none
 * that comes later is forgotten by an erasure or by the report of what is held.
 */
@DatabaseTest
class ErasedTablesTests {

	/** What an erasure leaves, and why. */
	private static final Map<String, String> KEPT = Map.of("audit_entry",
			"who did what stays accountable; its opaque id leads to nobody any more", "emergency_access",
			"that a record was opened stays accountable; reason and note are overwritten", "erasure",
			"the register of erasures, by the opaque id");

	/** What the report of a patient has no table for, and why. */
	private static final Map<String, String> NOT_REPORTED = Map.of("erasure",
			"there is one only when there is no patient to ask for a report", "record_number_given",
			"the number itself, which stands in the first table of the report");

	/**
	 * By these columns the database finds earlier versions of an erased patient's rows.
	 */
	private static final List<String> LEAD_TO_A_PATIENT = List.of("patient_id", "session_id", "finding_id");

	@Autowired
	private JdbcClient database;

	@Autowired
	private List<BundleSection> sections;

	@Test
	void areAllEmptiedOrKeptForAReason() {
		var erases = function();
		assertThat(tablesOfAPatient()).isNotEmpty().allSatisfy((table) -> {
			boolean emptied = Pattern.compile("delete from " + table + "\\b").matcher(erases).find()
					|| goesWithAnother(table);
			assertThat(emptied || KEPT.containsKey(table))
				.as("""
						the table %s holds something of a patient, and erase_patient leaves it. Let your migration define \
						erase_patient once more (create or replace, with what the newest migration of it says), with \
						'delete from %s …' in the order of the foreign keys, and, if the clinic's figures rest on it, a copy \
						under nobody's id before that; or let its foreign key to patient say 'on delete cascade'; or name it in KEPT here with the reason for which it stays""",
						table, table)
				.isTrue();
		});
		assertThat(KEPT.keySet()).allSatisfy((table) -> assertThat(tablesOfAPatient()).contains(table));
	}

	@Test
	void areAllInTheReportOnAPatient() {
		var told = statements();
		assertThat(tablesOfAPatient()).allSatisfy((table) -> {
			boolean mentioned = told.stream()
				.anyMatch((sql) -> Pattern.compile("\\b(?:from|join)\\s+" + table + "\\b").matcher(sql).find());
			assertThat(mentioned || NOT_REPORTED.containsKey(table))
				.as("""
						the table %s holds something of a patient, and the report of everything that is held leaves it out. \
						Give it a section of the bundle, or a statement in ReportOnPatient with a heading in \
						messages/privacy.properties (privacy.report.kind.…); or name it in NOT_REPORTED here with the reason""",
						table)
				.isTrue();
		});
	}

	@Test
	void leaveNoEarlierVersionBehind() {
		var versioned = new ArrayList<>(this.database.sql("""
				select relname from pg_class where exists (select from pg_trigger
					where tgrelid = pg_class.oid and tgfoid = to_regproc('keep_previous_version'))""")
			.query(String.class)
			.list());
		versioned.retainAll(tablesOfAPatient());
		assertThat(versioned).isNotEmpty()
			.allSatisfy((table) -> assertThat(
					table.equals("patient") || LEAD_TO_A_PATIENT.stream().anyMatch(columnsOf(table)::contains))
				.as("""
						erase_patient finds earlier versions by the columns %s; %s has none of them, so either give it \
						patient_id, or let your migration teach erase_patient, is_being_erased and ReportOnPatient its \
						column, and add that here""", LEAD_TO_A_PATIENT, table)
				.isTrue());
	}

	/* OWASP ASVS 5.0.0, 11.4.1. */
	@Test
	void usesNoHashThatIsBroken() {
		assertThat(this.database.sql("""
				select proname from pg_proc where pronamespace = current_schema()::regnamespace
					and prosrc ~* '\\mmd5\\s*\\('""").query(String.class).list())
			.as("functions with MD5; take mark_of_nobody(text)")
			.isEmpty();
	}

	/**
	 * The patient's own table, what names a patient, and what refers to one of these by a
	 * foreign key, up to what is kept.
	 */
	private Collection<String> tablesOfAPatient() {
		return new TreeSet<>(this.database.sql("""
				with recursive of_patient (id) as (
					select 'patient'::regclass::oid
					union
					select attrelid from pg_attribute join pg_class on pg_class.oid = attrelid
						where attname = 'patient_id' and relkind in ('r', 'p')
							and relnamespace = current_schema()::regnamespace
					union
					select conrelid from pg_constraint join of_patient on confrelid = of_patient.id
							join pg_class on pg_class.oid = confrelid and relname not in (:kept)
						where contype = 'f'
				)
				select distinct relname from of_patient join pg_class on pg_class.oid = of_patient.id""")
			.param("kept", KEPT.keySet())
			.query(String.class)
			.list());
	}

	/** Whether its rows are deleted with those that they refer to, which are deleted. */
	private boolean goesWithAnother(String table) {
		return this.database.sql("""
				select exists (select from pg_constraint
					where conrelid = cast(:table as regclass) and contype = 'f' and confdeltype = 'c'
						and confrelid = 'patient'::regclass)""").param("table", table).query(Boolean.class).single();
	}

	private String function() {
		return this.database
			.sql("select pg_get_functiondef('erase_patient(uuid, timestamptz, uuid, text, text)'::regprocedure)")
			.query(String.class)
			.single();
	}

	private Collection<String> columnsOf(String table) {
		return this.database.sql("""
				select attname from pg_attribute where attrelid = cast(:table as regclass) and attnum > 0
					and not attisdropped""").param("table", table).query(String.class).list();
	}

	private List<String> statements() {
		var part = new PatientPart(this.sections);
		return Stream.concat(this.sections.stream().map(part::recorded), ReportOnPatient.statements().stream())
			.collect(Collectors.toList());
	}

}
