package org.seriatim.exchange;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.SeriatimApplication;
import org.seriatim.bundle.BundleFormat;
import org.seriatim.exchange.ImportProgress.Stage;
import org.seriatim.support.PageTest;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

/** An import that breaks off in the middle leaves the records as they were. */
@PageTest
class BrokenOffImportTests {

	@Autowired
	private BundleImport bundleImport;

	@Autowired
	private JdbcTemplate jdbc;

	@TempDir
	private Path folder;

	@Test
	void aConnectionThatEndsInTheMiddleLeavesNothingHalfWritten() {
		this.bundleImport.take(SampleBundle.onePatient().writeTo(this.folder.resolve("before")), false,
				ImportProgress.UNWATCHED);
		Map<String, String> before = RecordCounts.of(this.jdbc);
		assertThatCode(() -> this.bundleImport.take(SampleBundle.FOLDER, false, (stage, file, done, total) -> {
			if (stage == Stage.WRITING && file.equals("injections.csv")) {
				endTheOtherConnections();
			}
		})).isNotNull();
		assertThat(RecordCounts.of(this.jdbc)).isEqualTo(before);
		assertThat(this.bundleImport.take(SampleBundle.FOLDER, false, ImportProgress.UNWATCHED))
			.isInstanceOf(ImportResult.Taken.class);
	}

	private void endTheOtherConnections() {
		Thread other = new Thread(() -> this.jdbc.queryForList("""
				select pg_terminate_backend(pid) from pg_stat_activity
				where datname = current_database() and state = 'idle in transaction'"""));
		other.start();
		try {
			other.join();
		}
		catch (InterruptedException ex) {
			throw new IllegalStateException(ex);
		}
	}

	@Test
	@EnabledIfSystemProperty(named = "chair.kills", matches = "20", disabledReason = "takes minutes: profile proof")
	void aProcessKilledInTheMiddleLosesNothingThatWasCommittedAndLeavesNothingHalfWritten() throws Exception {
		Path data = this.folder.resolve("data");
		Path earlier = SampleBundle.onePatient().writeTo(this.folder.resolve("earlier"));
		Path large = SampleBundle.times(7).writeTo(this.folder.resolve("large"));
		assertThat(command("import", earlier.toString(), "--seriatim.data=" + data).waitFor()).isZero();

		Process killed = command("import", large.toString(), "--seriatim.data=" + data);
		String stage = untilItWrites(killed.errorReader());
		killed.destroyForcibly().waitFor(1, TimeUnit.MINUTES);
		assertThat(stage).startsWith("writing");
		assertThat(killed.exitValue()).as("killed, not finished").isEqualTo(137);

		Path out = this.folder.resolve("out");
		assertThat(command("export", out.toString(), "--seriatim.data=" + data).waitFor()).isZero();
		for (String name : BundleFormat.FILES) {
			assertThat(SampleBundle.rows(out.resolve(name))).as(name)
				.containsExactlyInAnyOrderElementsOf(SampleBundle.rows(earlier.resolve(name)));
		}
	}

	private static String untilItWrites(BufferedReader errors) throws IOException {
		String line = errors.readLine();
		while (line != null && !line.startsWith("writing")) {
			line = errors.readLine();
		}
		return String.valueOf(line);
	}

	private Process command(String... arguments) throws IOException {
		List<String> command = new ArrayList<>(
				List.of(Path.of(System.getProperty("java.home"), "bin", "java").toString(), "-Xmx512m",
						"-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-cp", System.getProperty("java.class.path"),
						SeriatimApplication.class.getName()));
		command.addAll(List.of(arguments));
		return new ProcessBuilder(command).redirectOutput(this.folder.resolve("output").toFile()).start();
	}

}
