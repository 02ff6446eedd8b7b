package org.seriatim.demo.domain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.Map;
import java.util.zip.ZipFile;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

import static org.assertj.core.api.Assertions.assertThat;

class GenerateCommandTests {

	@TempDir
	Path folder;

	private int run(String... words) {
		return new CommandLine(new GenerateCommand(Clock.fixed(Instant.parse("2026-11-20T09:00:00Z"), ZoneOffset.UTC)))
			.execute(words);
	}

	@Test
	void aFolderAndAZipHoldTheSameClinicOfThatSize() throws IOException {
		var bundle = this.folder.resolve("clinic");
		var zip = this.folder.resolve("clinic.zip");
		assertThat(run("--patients", "25", "--seed", "7", bundle.toString())).isZero();
		assertThat(run("--patients=25", "--seed=7", "--as-of=2026-11-20", zip.toString())).isZero();
		Map<String, String> files = new HashMap<>();
		try (var list = Files.list(bundle)) {
			for (var file : list.toList()) {
				files.put(file.getFileName().toString(), Files.readString(file));
			}
		}
		assertThat(files.get("patients.csv").lines()).hasSize(26);
		try (var zipped = new ZipFile(zip.toFile())) {
			assertThat(zipped.size()).isEqualTo(files.size());
			for (var entry : zipped.stream().toList()) {
				assertThat(zipped.getInputStream(entry)).hasContent(files.get(entry.getName()));
			}
		}
	}

	@Test
	void overwritesNothingAndRefusesASizeThatIsNone() throws IOException {
		var there = Files.createFile(this.folder.resolve("there.zip"));
		assertThat(run("--patients", "5", there.toString())).isEqualTo(1);
		assertThat(there).isEmptyFile();
		assertThat(run("--patients", "0", this.folder.resolve("new").toString())).isEqualTo(2);
		assertThat(this.folder.resolve("new")).doesNotExist();
	}

}
