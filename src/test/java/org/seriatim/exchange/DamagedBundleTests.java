package org.seriatim.exchange;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Every kind of damage is told with its place, and nothing of a damaged bundle is taken.
 */
@PageTest
@OneDatabase
class DamagedBundleTests {

	@Autowired
	private BundleImport bundleImport;

	@Autowired
	private JdbcTemplate jdbc;

	@TempDir
	private Path folder;

	@ParameterizedTest
	@MethodSource({ "cells", "rows", "rules", "files" })
	void tellsWhatIsWrongAndWhere(Damage damage) {
		Map<String, String> before = RecordCounts.of(this.jdbc);
		Path bundle = damage.damage().apply(SampleBundle.onePatient()).writeTo(this.folder);
		ImportResult result = this.bundleImport.take(bundle, false, ImportProgress.UNWATCHED);
		assertThat(result).isInstanceOf(ImportResult.Refused.class);
		ProblemReport problems = ((ImportResult.Refused) result).problems();
		assertThat(problems.first()).containsExactlyElementsOf(damage.problems());
		problems.discard();
		assertThat(RecordCounts.of(this.jdbc)).isEqualTo(before);
	}

	static Stream<Damage> cells() {
		return Stream.of(cell("patients.csv", 2, 8, "phototype", "7", "a whole number from 1 to 6, or nothing"),
				cell("patients.csv", 2, 8, "phototype", "3.0", "a whole number from 1 to 6, or nothing"),
				cell("patients.csv", 2, 8, "phototype", "III", "a whole number from 1 to 6, or nothing"),
				cell("patients.csv", 2, 4, "birth_date", "1980-02-30",
						"a day of the years 1900 to 2199, such as 2026-03-31, or nothing"),
				cell("patients.csv", 2, 4, "birth_date", "3.2.1980",
						"a day of the years 1900 to 2199, such as 2026-03-31, or nothing"),
				cell("patients.csv", 2, 4, "birth_date", "1880-02-03",
						"a day of the years 1900 to 2199, such as 2026-03-31, or nothing"),
				cell("patients.csv", 2, 5, "sex", "F", "one of female, male, other, or nothing"),
				cell("patients.csv", 2, 9, "skin_thickness", "Thin", "one of thin, medium, thick, or nothing"),
				cell("patients.csv", 2, 10, "sebum", "greasy", "one of dry, normal, combination, oily, or nothing"),
				cell("patients.csv", 2, 2, "family_name", "A".repeat(201), "\"" + "A".repeat(120) + "…\"",
						"text of at most 200 characters, or nothing"),
				cell("patients.csv", 2, 2, "family_name", "A\u0000h", "\"A\uFFFDh\"",
						"text of at most 200 characters, or nothing"),
				cell("scar_assessments.csv", 2, 8, "depth_mm", "\"0,4\"", "\"0,4\"",
						"a number with a decimal point, at least 0 and at most 10, or nothing"),
				cell("scar_assessments.csv", 2, 8, "depth_mm", "-0.1",
						"a number with a decimal point, at least 0 and at most 10, or nothing"),
				cell("scar_assessments.csv", 2, 8, "depth_mm", "10.01",
						"a number with a decimal point, at least 0 and at most 10, or nothing"),
				cell("scar_assessments.csv", 2, 8, "depth_mm", "NaN",
						"a number with a decimal point, at least 0 and at most 10, or nothing"),
				cell("scar_assessments.csv", 2, 8, "depth_mm", "4e-1",
						"a number with a decimal point, at least 0 and at most 10, or nothing"),
				cell("scar_assessments.csv", 2, 7, "width_mm", "0",
						"a number with a decimal point, above 0 and at most 100, or nothing"),
				cell("scar_assessments.csv", 2, 6, "length_mm", "300.1",
						"a number with a decimal point, above 0 and at most 300, or nothing"),
				cell("scar_assessments.csv", 2, 9, "depth_method", "by eye",
						"one of estimated, gauge, ultrasound, imaging_3d, other, or nothing"),
				cell("scar_assessments.csv", 2, 10, "depth_class", "very deep",
						"one of minimal, shallow, deep, or nothing"),
				cell("scar_assessments.csv", 2, 11, "severity", "5", "a whole number from 0 to 4, or nothing"),
				cell("scar_assessments.csv", 2, 12, "response", "-2", "a whole number from -1 to 4, or nothing"),
				cell("scar_assessments.csv", 2, 5, "repeat", "2", "a whole number from 0 to 1"),
				cell("scar_assessments.csv", 2, 4, "assessor", "", "nothing",
						"the name of a member of staff, text in one line of at most 200 characters, without space at its ends"),
				cell("scar_assessments.csv", 2, 4, "assessor", "a.venn ", "\"a.venn \"",
						"the name of a member of staff, text in one line of at most 200 characters, without space at its ends"),
				cell("scars.csv", 2, 5, "map_x", "1.01",
						"a number with a decimal point, at least 0 and at most 1, or nothing"),
				cell("scar_counts.csv", 2, 6, "count", "-1", "a whole number, 0 or more"),
				cell("scar_counts.csv", 2, 6, "count", "", "nothing", "a whole number, 0 or more"),
				cell("pore_assessments.csv", 2, 6, "pores_per_cm2", "-3",
						"a number with a decimal point, at least 0, or nothing"),
				cell("global_assessments.csv", 2, 4, "scale", "GAIS", "a word of lower-case letters, digits, - and _"),
				cell("global_assessments.csv", 2, 6, "value", "better", "a number with a decimal point"),
				cell("sessions.csv", 3, 6, "weight_kg", "0",
						"a number with a decimal point, above 0 and at most 500, or nothing"),
				cell("sessions.csv", 3, 10, "oral_analgesic", "true", "yes or no, or nothing"),
				cell("sessions.csv", 3, 12, "pain_nrs", "11", "a whole number from 0 to 10, or nothing"),
				cell("sessions.csv", 3, 5, "practitioner", "", "nothing",
						"the name of a member of staff, text in one line of at most 200 characters, without space at its ends"),
				cell("preparations.csv", 2, 11, "lidocaine_percent", "20",
						"a number with a decimal point, at least 0 and at most 10, or nothing"),
				cell("preparations.csv", 2, 7, "vial_mg", "0", "a number with a decimal point, above 0, or nothing"),
				cell("injections.csv", 2, 9, "points", "0", "a whole number, 1 or more, or nothing"),
				cell("injections.csv", 2, 10, "volume_ml", "-0.220",
						"a number with a decimal point, at least 0, or nothing"),
				cell("injections.csv", 2, 11, "needle_gauge", "3", "a whole number from 10 to 40, or nothing"),
				cell("injections.csv", 2, 7, "target", "lump", "one of pores, scar"),
				cell("injections.csv", 2, 8, "layer", "subcutis",
						"one of superficial_dermis, mid_dermis, deep_dermis, below_dermis, or nothing"),
				cell("findings.csv", 2, 8, "grade", "0", "a whole number from 1 to 5, or nothing"),
				cell("findings.csv", 2, 7, "first_noted_on", "", "nothing",
						"a day of the years 1900 to 2199, such as 2026-03-31"),
				cell("finding_observations.csv", 2, 4, "size_mm", "0",
						"a number with a decimal point, above 0, or nothing"),
				cell("contacts.csv", 2, 5, "outcome", "busy", "one of reached, no_answer, declined"),
				cell("appointments.csv", 2, 4, "ends_at", "2026-04-04T09:45:00",
						"a time with its offset from UTC, such as 2026-03-31T09:30:00+02:00"),
				cell("appointments.csv", 2, 4, "ends_at", "2026-04-04T25:00:00Z",
						"a time with its offset from UTC, such as 2026-03-31T09:30:00+02:00"),
				new Damage("a name in Latin-1",
						(bundle) -> bundle.cell("patients.csv", 2, "family_name", "Häkonsen")
							.encode("patients.csv", StandardCharsets.ISO_8859_1),
						new Problem("patients.csv", 2, 2, "family_name",
								"bytes that are not UTF-8 in \"H\uFFFDkonsen\"", "text in UTF-8")));
	}

	static Stream<Damage> rows() {
		return Stream.of(
				new Damage("a cell too many", (bundle) -> bundle.replace("patients.csv", "Ash", "Ash,Jr"),
						line("patients.csv", 2, "11 cells", "10 cells, as many as the header has")),
				new Damage("a cell too few", (bundle) -> bundle.replace("contacts.csv", ",2,", ",2"),
						line("contacts.csv", 2, "7 cells", "8 cells, as many as the header has")),
				new Damage("a quote without an end",
						(bundle) -> bundle.replace("patients.csv", "Ash", "\"Ash")
							.row("patients.csv", "P2,Oak,,,,,,9,,"),
						line("patients.csv", 2, "a cell in quotes without an end", "a closing quote"),
						new Problem("patients.csv", 3, 8, "phototype", "\"9\"",
								"a whole number from 1 to 6, or nothing"),
						unknownPatient("series.csv", 1), unknownPatient("scars.csv", 1),
						unknownPatient("scar_assessments.csv", 1), unknownPatient("scar_counts.csv", 1),
						unknownPatient("pore_assessments.csv", 1), unknownPatient("global_assessments.csv", 1),
						unknownPatient("sessions.csv", 1),
						new Problem("sessions.csv", 3, 1, "record_number", "P1",
								"a patient, in patients.csv or on record"),
						unknownPatient("preparations.csv", 1), unknownPatient("injections.csv", 1),
						unknownPatient("findings.csv", 2), unknownPatient("contacts.csv", 1),
						unknownPatient("appointments.csv", 1)),
				new Damage("a quote in the middle", (bundle) -> bundle.replace("contacts.csv", ",2,", ",2,a\"b"),
						line("contacts.csv", 2, "a quote inside a cell that does not begin with one",
								"the whole cell in quotes, with each quote in it doubled")),
				new Damage("text after a quote", (bundle) -> bundle.replace("contacts.csv", ",2,", ",2,\"a\"b"),
						line("contacts.csv", 2, "text after a closing quote",
								"a comma or the end of the line after a closing quote")),
				new Damage("a problem after a cell of several lines",
						(bundle) -> bundle.replace("contacts.csv", ",2,", ",2,\"one\ntwo\nthree\"")
							.row("contacts.csv", "P1,1,2026-01-14,fax,reached,,,"),
						new Problem("contacts.csv", 5, 4, "channel", "\"fax\"", "one of phone, link, visit")),
				new Damage("a key twice", (bundle) -> bundle
					.row("scar_counts.csv", "P1,chin,boxcar,2026-01-05,a.venn,4"), line("scar_counts.csv", 3,
							"the key of line 2",
							"a key (record_number, region, type, assessed_on, assessor) that no other line of the file has")),
				new Damage("a time twice, under two offsets",
						(bundle) -> bundle.row("appointments.csv",
								"P1,a.venn,2026-04-04T07:00:00Z,2026-04-04T09:45:00+02:00,review,cancelled"),
						line("appointments.csv", 3, "the key of line 2",
								"a key (record_number, practitioner, starts_at) that no other line of the file has")));
	}

	static Stream<Damage> rules() {
		return Stream.of(
				rule("contacts.csv", "record_number", "P9", 1, "P9", "a patient, in patients.csv or on record"),
				rule("sessions.csv", 3, "series", "2", 3, "P1, 2",
						"a series of the patient, in series.csv or on record"),
				rule("scar_assessments.csv", "scar_label", "S9", 2, "P1, S9",
						"a scar of the patient, in scars.csv or on record"),
				rule("preparations.csv", "session_number", "3", 2, "P1, 3",
						"a session of the patient, in sessions.csv or on record",
						new Problem("injections.csv", 2, 4, "preparation", "P1, 1, 1",
								"a preparation of the session, in preparations.csv or on record")),
				rule("injections.csv", "session_number", "3", 2, "P1, 3",
						"a session of the patient, in sessions.csv or on record"),
				rule("injections.csv", "session_number", "2", 4, "preparation", "P1, 2, 1",
						"a preparation of the session, in preparations.csv or on record"),
				rule("injections.csv", "preparation", "2", 4, "P1, 1, 2",
						"a preparation of the session, in preparations.csv or on record"),
				rule("injections.csv", "scar_label", "S2", 6, "P1, S2",
						"a scar of the patient, in scars.csv or on record"),
				rule("findings.csv", "session_number", "7", 3, "P1, 7",
						"a session of the patient, in sessions.csv or on record"),
				rule("findings.csv", "scar_label", "S2", 6, "P1, S2",
						"a scar of the patient, in scars.csv or on record"),
				rule("finding_observations.csv", "finding", "F9", 1, "F9", "a finding, in findings.csv or on record"),
				rule("contacts.csv", "session_number", "3", 2, "P1, 3",
						"a session of the patient, in sessions.csv or on record"),
				rule("series.csv", "ended_on", "2026-05-01", 6, "ended_on \"2026-05-01\", status \"open\"",
						"nothing while the status is open"),
				rule("scars.csv", "map_y", "", 5, "map_x", "map_x \"0.5\", map_y nothing",
						"both map_x and map_y, or neither"),
				rule("scar_assessments.csv", "length_mm", "2.9", 6, "length_mm \"2.9\", width_mm \"3.0\"",
						"a length that is not below the width"),
				new Damage("a depth on a raised scar", (bundle) -> bundle.cell("scars.csv", 2, "type", "keloid"),
						new Problem("scar_assessments.csv", 2, 8, "depth_mm", "0.40 on a scar of type keloid",
								"nothing, since a raised or macular scar has no depth")),
				rule("global_assessments.csv", "value", "4", 6, "value \"4\", item \"practitioner\", scale \"gais\"",
						"a whole number within the scale"),
				rule("global_assessments.csv", "value", "0.5", 6,
						"value \"0.5\", item \"practitioner\", scale \"gais\"", "a whole number within the scale"),
				rule("global_assessments.csv", "item", "nurse", 5, "item \"nurse\", scale \"gais\"",
						"an item of the scale"),
				rule("sessions.csv", 3, "treated_on", "2026-01-09", 4,
						"session 2 on 2026-01-09, session 1 on 2026-01-10 in line 2",
						"days that do not fall as the session numbers of a patient rise"),
				rule("preparations.csv", "stock_drawn_ml", "3.01", 8, "diluent_ml",
						"diluent_ml \"3\", stock_drawn_ml \"3.01\"", "at least what was drawn out of the vial"),
				rule("preparations.csv", "stock_drawn_ml", "-2.00", 9, "-2.00",
						"a number that is not negative, unless it makes the volumes of the preparation add up"),
				rule("findings.csv", "first_noted_on", "2026-01-09", 7, "2026-01-09, session on 2026-01-10 in line 2",
						"a day that is not before the day of its session"),
				rule("findings.csv", "closed_on", "2026-03-01", 11, "closed_on \"2026-03-01\", closed_by nothing",
						"both closed_on and closed_by, or neither"),
				new Damage("closed before it was noted",
						(bundle) -> bundle.cell("findings.csv", 2, "closed_on", "2026-01-11")
							.cell("findings.csv", 2, "closed_by", "a.venn"),
						new Problem("findings.csv", 2, 11, "closed_on",
								"closed_on \"2026-01-11\", first_noted_on \"2026-01-12\"",
								"a day that is not before the finding was first noted")),
				rule("finding_observations.csv", "observed_on", "2026-01-09", 2,
						"2026-01-09, session on 2026-01-10 in line 2",
						"a day that is not before the session of the finding"),
				rule("contacts.csv", "contacted_on", "2026-01-09", 3, "2026-01-09, session on 2026-01-10 in line 2",
						"a day that is not before the day of its session"),
				rule("appointments.csv", "ends_at", "2026-04-04T09:00:00+02:00", 4,
						"ends_at \"2026-04-04T09:00:00+02:00\", starts_at \"2026-04-04T09:00:00+02:00\"",
						"a time after the start"),
				new Damage("a practitioner booked twice",
						(bundle) -> bundle.row("patients.csv", "P2,,,,,,,,,")
							.row("appointments.csv",
									"P2,a.venn,2026-04-04T09:30:00+02:00,2026-04-04T10:00:00+02:00,treatment,arrived"),
						new Problem("appointments.csv", 3, 3, "starts_at",
								"2026-04-04 09:30, when an earlier one ends at 2026-04-04 09:45",
								"a time in which the practitioner has no other appointment that is booked or arrived")),
				new Damage("three things at once",
						(bundle) -> bundle.cell("contacts.csv", 2, "pain_nrs", "12")
							.cell("patients.csv", 2, "phototype", "0")
							.cell("finding_observations.csv", 2, "finding", "F2"),
						new Problem("patients.csv", 2, 8, "phototype", "\"0\"",
								"a whole number from 1 to 6, or nothing"),
						new Problem("finding_observations.csv", 2, 1, "finding", "F2",
								"a finding, in findings.csv or on record"),
						new Problem("contacts.csv", 2, 7, "pain_nrs", "\"12\"",
								"a whole number from 0 to 10, or nothing")));
	}

	static Stream<Damage> files() {
		String patients = "no other columns than record_number, family_name, given_name, birth_date, sex, phone, email, phototype, skin_thickness, sebum";
		return Stream.of(
				new Damage("a file is missing", (bundle) -> bundle.remove("scars.csv"),
						new Problem("scars.csv", null, null, null, "no such file",
								"the file, with its header line where there is nothing to tell")),
				new Damage("an empty file", (bundle) -> bundle.put("scars.csv", ""),
						new Problem("scars.csv", null, null, null, "an empty file",
								"a first line with the names of the columns")),
				new Damage("a file too many", (bundle) -> bundle.put("scar.csv", "a\n"), new Problem("scar.csv", null,
						null, null, "a file that is not part of a bundle",
						"no other CSV files than patients.csv, series.csv, scars.csv, scar_assessments.csv, "
								+ "scar_counts.csv, pore_assessments.csv, global_assessments.csv, sessions.csv, "
								+ "preparations.csv, injections.csv, findings.csv, finding_observations.csv, "
								+ "contacts.csv, appointments.csv, about.csv")),
				new Damage("an unknown column",
						(bundle) -> bundle.edit("patients.csv",
								(text) -> text.replace("sebum\n", "sebum,note\n").replace("oily\n", "oily,x\n")),
						new Problem("patients.csv", 1, 11, null, "\"note\"", patients)),
				new Damage("a column without a name",
						(bundle) -> bundle.edit("patients.csv", (text) -> text.replace("\n", ",\n")),
						new Problem("patients.csv", 1, 11, null, "a column without a name", patients)),
				new Damage("a column is missing",
						(bundle) -> bundle.edit("patients.csv",
								(text) -> text.replace(",sebum\n", "\n").replace(",oily\n", "\n")),
						new Problem("patients.csv", 1, null, "sebum", "no such column", "the column sebum")),
				new Damage("a column of the key is missing",
						(bundle) -> bundle.edit("scars.csv",
								(text) -> text.replace("scar_label,", "").replace("S1,", "")),
						new Problem("scars.csv", 1, null, "scar_label", "no such column", "the column scar_label")),
				new Damage("a column twice",
						(bundle) -> bundle.edit("scar_counts.csv",
								(text) -> text.replace("count\n", "count,count\n").replace(",3\n", ",3,3\n")),
						new Problem("scar_counts.csv", 1, 7, "count", "the column again", "each column once")),
				new Damage("semicolons", (bundle) -> bundle.edit("scars.csv", (text) -> text.replace(',', ';')),
						new Problem("scars.csv", 1, null, null,
								"\"record_number;scar_label;region;type;map_x;map_y;first_recorded_on\"",
								"cells separated by commas")),
				new Damage("UTF-16", (bundle) -> bundle.encode("scars.csv", StandardCharsets.UTF_16),
						new Problem("scars.csv", 1, null, null, "text that is not UTF-8 but looks like UTF-16",
								"text in UTF-8")),
				new Damage("a format of the future",
						(bundle) -> bundle.put("about.csv", "key,value\nformat_version,2\n"),
						new Problem("about.csv", 2, 2, "value", "\"2\"", "the whole number 1")),
				new Damage("an unknown key about the bundle",
						(bundle) -> bundle.put("about.csv", "key,value\nformat_version,1\nclinic,North\n"),
						new Problem("about.csv", 3, 1, "key", "\"clinic\"", "one of format_version"),
						new Problem("about.csv", 3, 2, "value", "\"North\"", "the whole number 1")),
				new Damage("no format version", (bundle) -> bundle.put("about.csv", "key,value\n"),
						new Problem("about.csv", null, null, null, "no format version",
								"a line with the key format_version and the number of the version")));
	}

	private static Damage cell(String file, int line, int number, String column, String text, String expected) {
		return cell(file, line, number, column, text, '"' + text + '"', expected);
	}

	private static Damage cell(String file, int line, int number, String column, String text, String found,
			String expected) {
		return new Damage(file + " " + column + " " + text, (bundle) -> bundle.cell(file, line, column, text),
				new Problem(file, line, number, column, found, expected));
	}

	private static Damage rule(String file, String column, String text, int number, String found, String expected,
			Problem... others) {
		return rule(file, 2, column, text, number, column, found, expected, others);
	}

	private static Damage rule(String file, int line, String column, String text, int number, String found,
			String expected) {
		return rule(file, line, column, text, number, column, found, expected);
	}

	private static Damage rule(String file, String column, String text, int number, String blamed, String found,
			String expected) {
		return rule(file, 2, column, text, number, blamed, found, expected);
	}

	private static Damage rule(String file, int line, String column, String text, int number, String blamed,
			String found, String expected, Problem... others) {
		return new Damage(file + " " + column + " " + text, (bundle) -> bundle.cell(file, line, column, text),
				Stream.concat(Stream.of(new Problem(file, line, number, blamed, found, expected)), Stream.of(others))
					.toArray(Problem[]::new));
	}

	private static Problem line(String file, @Nullable Integer line, String found, String expected) {
		return new Problem(file, line, null, null, found, expected);
	}

	private static Problem unknownPatient(String file, int number) {
		return new Problem(file, 2, number, "record_number", "P1", "a patient, in patients.csv or on record");
	}

	record Damage(String name, UnaryOperator<SampleBundle> damage, List<Problem> problems) {

		Damage(String name, UnaryOperator<SampleBundle> damage, Problem... problems) {
			this(name, damage, List.of(problems));
		}

		@Override
		public String toString() {
			return this.name;
		}

	}

}
