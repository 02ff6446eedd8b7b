package org.seriatim.exchange;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.DirectoryStream;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.bundle.BundleFormat;
import org.seriatim.database.RecordsOwner;
import org.seriatim.exchange.ImportResult.FileCounts;
import org.seriatim.support.PageTest;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

/** What goes in comes out, and what comes out goes in. */
@PageTest
class RoundTripTests {

	@Autowired
	private BundleImport bundleImport;

	@Autowired
	private BundleExport bundleExport;

	@Autowired
	private JdbcTemplate jdbc;

	@Autowired
	private RecordsOwner owner;

	@TempDir
	private Path folder;

	@Test
	void theFirstExportHoldsEveryRowAndValueOfTheSampleClinic() throws IOException {
		ImportResult.Taken taken = take(SampleBundle.FOLDER);
		assertThat(taken.files()).extracting(FileCounts::file).containsExactlyElementsOf(BundleFormat.FILES);
		this.bundleExport.to(this.folder.resolve("out"));
		for (FileCounts counts : taken.files()) {
			List<Map<String, String>> given = SampleBundle.rows(SampleBundle.FOLDER.resolve(counts.file()));
			assertThat(counts).isEqualTo(new FileCounts(counts.file(), given.size(), 0, 0));
			assertThat(SampleBundle.rows(this.folder.resolve("out").resolve(counts.file()))).as(counts.file())
				.containsExactlyInAnyOrderElementsOf(given);
		}
	}

	@Test
	void anExportTakenByAnEmptyDatabaseGivesTheSameBytes() throws IOException {
		take(SampleBundle.FOLDER);
		this.bundleExport.to(this.folder.resolve("first"));
		this.bundleExport.to(this.folder.resolve("first.zip"));
		empty();
		take(this.folder.resolve("first"));
		this.bundleExport.to(this.folder.resolve("second"));
		this.bundleExport.to(this.folder.resolve("second.zip"));
		assertThat(files(this.folder.resolve("second"))).hasSize(15).isEqualTo(files(this.folder.resolve("first")));
		assertThat(this.folder.resolve("second.zip")).hasSameBinaryContentAs(this.folder.resolve("first.zip"));
	}

	@Test
	void theSameBundleTwiceChangesNothingTheSecondTime() {
		take(SampleBundle.FOLDER);
		Map<String, String> before = RecordCounts.of(this.jdbc);
		ImportResult.Taken again = take(SampleBundle.FOLDER);
		assertThat(again.added()).isZero();
		assertThat(again.changed()).isZero();
		assertThat(again.unchanged()).isEqualTo(16_675);
		assertThat(withoutAuditLog(RecordCounts.of(this.jdbc))).isEqualTo(withoutAuditLog(before));
	}

	@Test
	void theOrderOfColumnsAndRowsTheLineEndsAndAByteOrderMarkMakeNoDifference() throws IOException {
		take(SampleBundle.FOLDER);
		this.bundleExport.to(this.folder.resolve("out"));
		Map<String, String> exported = files(this.folder.resolve("out"));
		empty();
		Random random = new Random(20_261_120);
		SampleBundle shuffled = SampleBundle.whole();
		for (String name : BundleFormat.FILES) {
			shuffled.edit(name, (text) -> "\uFEFF" + shuffled(text, random).replace("\n", "\r\n"));
		}
		take(shuffled.writeTo(this.folder.resolve("shuffled")));
		this.bundleExport.to(this.folder.resolve("again"));
		assertThat(files(this.folder.resolve("again"))).isEqualTo(exported);
	}

	/** Columns and rows in another order, each cell in quotes. */
	private static String shuffled(String text, Random random) {
		try (CSVParser parser = CSVParser.parse(text, CSVFormat.RFC4180)) {
			List<CSVRecord> records = new ArrayList<>(parser.getRecords());
			List<Integer> columns = IntStream.range(0, records.get(0).size()).boxed().collect(Collectors.toList());
			Collections.shuffle(columns, random);
			Collections.shuffle(records.subList(1, records.size()), random);
			return records.stream()
				.map((row) -> columns.stream()
					.map((column) -> '"' + row.get(column).replace("\"", "\"\"") + '"')
					.collect(Collectors.joining(",", "", "\n")))
				.collect(Collectors.joining());
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	@Test
	void valuesThatNeedCareComeBackAsTheyWereGiven() throws IOException {
		SampleBundle bundle = SampleBundle.onePatient()
			.cell("patients.csv", 2, "given_name", " =1+1 ")
			.cell("patients.csv", 2, "family_name", "\"O'Brien, \"\"Bo\"\" Ł\uD83D\uDE00\"")
			.cell("contacts.csv", 2, "note", "\"two\r\nlines\tand \\N \\. a tab\"")
			.cell("injections.csv", 2, "volume_ml", "0.2200")
			.cell("appointments.csv", 2, "starts_at", "2026-03-29T01:30:00.5-03:30");
		take(bundle.writeTo(this.folder.resolve("in")));
		this.bundleExport.to(this.folder.resolve("out"));
		assertThat(files(this.folder.resolve("out")).get("patients.csv"))
			.contains("P1,\"O'Brien, \"\"Bo\"\" Ł\uD83D\uDE00\", =1+1 ,1980-02-03");
		assertThat(files(this.folder.resolve("out")).get("contacts.csv"))
			.endsWith("yes,2,\"two\r\nlines\tand \\N \\. a tab\"\r\n");
		assertThat(files(this.folder.resolve("out")).get("injections.csv")).contains(",4,0.2200,30,4,");
		assertThat(files(this.folder.resolve("out")).get("appointments.csv"))
			.contains("a.venn,2026-03-29T01:30:00.5-03:30,2026-04-04T09:45:00+02:00,");
	}

	@Test
	void rowsComeInTheOrderOfTheirKeys() throws IOException {
		SampleBundle bundle = SampleBundle.onePatient()
			.row("patients.csv", "P10,,,,,,,,,")
			.row("patients.csv", "P2,,,,,,,,,")
			.row("patients.csv", "p1,,,,,,,,,")
			.row("patients.csv", "Ä1,,,,,,,,,")
			.row("sessions.csv", "P1,10,1,2026-04-04,a.venn,,,,,,,,");
		take(bundle.writeTo(this.folder.resolve("in")));
		this.bundleExport.to(this.folder.resolve("out"));
		assertThat(SampleBundle.rows(this.folder.resolve("out/patients.csv")))
			.extracting((row) -> row.get("record_number"))
			.containsExactly("P1", "P10", "P2", "p1", "Ä1");
		assertThat(SampleBundle.rows(this.folder.resolve("out/sessions.csv")))
			.extracting((row) -> row.get("session_number"))
			.containsExactly("1", "2", "10");
	}

	@Test
	void anEmptyClinicIsABundleToo() throws IOException {
		this.bundleExport.to(this.folder.resolve("out.zip"));
		ImportResult.Taken taken = take(this.folder.resolve("out.zip"));
		assertThat(taken.added() + taken.changed() + taken.unchanged()).isZero();
	}

	@Test
	void anExportOverwritesNothing() throws IOException {
		Files.writeString(this.folder.resolve("file.zip"), "precious");
		Files.createDirectory(this.folder.resolve("full"));
		Files.writeString(this.folder.resolve("full/file"), "precious");
		for (String name : List.of("file.zip", "full")) {
			assertThatExceptionOfType(FileAlreadyExistsException.class)
				.isThrownBy(() -> this.bundleExport.to(this.folder.resolve(name)));
		}
		assertThat(this.folder.resolve("file.zip")).hasContent("precious");
		assertThat(this.folder).isDirectoryContaining((path) -> path.endsWith("full"));
		try (DirectoryStream<Path> left = Files.newDirectoryStream(this.folder)) {
			assertThat(left).hasSize(2);
		}
	}

	@Test
	void anExportFillsAnEmptyFolder() throws IOException {
		Files.createDirectory(this.folder.resolve("empty"));
		this.bundleExport.to(this.folder.resolve("empty"));
		assertThat(files(this.folder.resolve("empty"))).hasSize(15)
			.containsEntry("about.csv", "key,value\r\nformat_version,1\r\n");
	}

	@Test
	void importAndExportAreInTheAuditLog() throws IOException {
		take(SampleBundle.FOLDER);
		this.bundleExport.to(this.folder.resolve("out"));
		// the digest is that of: LC_ALL=C sha256sum *.csv | sha256sum
		assertThat(this.jdbc.queryForList("select action || ': ' || coalesce(detail, '') from audit_entry order by id",
				String.class))
			.containsExactly(
					"imported: sha256 8110e8c5d8120ba16d664a74f9412028c2ba1ede331fb8dbf693ea6c806f75e6, 16675 added, 0 changed, 0 unchanged",
					"exported: ");
	}

	private ImportResult.Taken take(Path bundle) {
		ImportResult result = this.bundleImport.take(bundle, false, ImportProgress.UNWATCHED);
		assertThat(result instanceof ImportResult.Refused refused ? refused.problems().first() : List.of()).isEmpty();
		return (ImportResult.Taken) result;
	}

	/** As if the records had never been. */
	private void empty() {
		new JdbcTemplate(this.owner.dataSource()).execute("""
				create temporary table protocol as table protocol_version;
				truncate staff, patient, record_number_given, previous_version, audit_entry cascade;
				insert into protocol_version table protocol;
				drop table protocol""");
	}

	private static Map<String, String> withoutAuditLog(Map<String, String> content) {
		Map<String, String> others = new TreeMap<>(content);
		assertThat(others.remove("audit_entry")).isNotNull();
		assertThat(others.remove("audit_waiting")).isNotNull();
		return others;
	}

	private static Map<String, String> files(Path folder) throws IOException {
		Map<String, String> files = new TreeMap<>();
		try (DirectoryStream<Path> paths = Files.newDirectoryStream(folder)) {
			for (Path path : paths) {
				files.put(path.getFileName().toString(), Files.readString(path));
			}
		}
		return files;
	}

}
