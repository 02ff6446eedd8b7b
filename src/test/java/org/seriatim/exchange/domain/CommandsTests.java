package org.seriatim.exchange.domain;

import java.nio.file.Files;
import java.nio.file.Path;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

import org.seriatim.exchange.SampleBundle;
import org.seriatim.support.PageTest;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;

import static org.assertj.core.api.Assertions.assertThat;

@PageTest
@ExtendWith(OutputCaptureExtension.class)
class CommandsTests {

	@Autowired
	private ImportCommand importCommand;

	@Autowired
	private ExportCommand exportCommand;

	@TempDir
	private Path folder;

	@Test
	void importSaysWhatItBrought(CapturedOutput output) {
		Path bundle = SampleBundle.onePatient().writeTo(this.folder.resolve("bundle"));
		assertThat(run(this.importCommand, bundle.toString())).isZero();
		assertThat(output.getOut()).containsPattern("patients.csv +1 +0 +0\\R")
			.containsPattern("all +15 +0 +0\\Rsha256 [0-9a-f]{64}\\R");
		assertThat(output.getErr()).containsPattern("reading +\\d+ %").containsPattern("writing +\\d+ %");
	}

	@Test
	void importIsRefusedWithTheReasons(CapturedOutput output) {
		Path bundle = SampleBundle.onePatient()
			.cell("patients.csv", 2, "phototype", "7")
			.remove("scars.csv")
			.writeTo(this.folder.resolve("bundle"));
		assertThat(run(this.importCommand, bundle.toString())).isEqualTo(1);
		assertThat(output.getErr()).contains(
				"patients.csv, line 2, phototype (column 8): found \"7\"; expected a whole number from 1 to 6, or nothing",
				"scars.csv: found no such file; expected the file, with its header line where there is nothing to tell",
				"Nothing was imported: 2 problems.", "Rules about several rows were not asked");
	}

	@Test
	void importUpdatesOnlyWhenItIsTold(CapturedOutput output) {
		assertThat(run(this.importCommand, SampleBundle.onePatient().writeTo(this.folder.resolve("one")).toString()))
			.isZero();
		String changed = SampleBundle.onePatient()
			.cell("patients.csv", 2, "sebum", "dry")
			.writeTo(this.folder.resolve("other"))
			.toString();
		assertThat(run(this.importCommand, changed)).isEqualTo(1);
		assertThat(output.getErr()).contains("Nothing was imported: 1 problem.");
		assertThat(run(this.importCommand, "--update", changed)).isZero();
		assertThat(output.getOut()).containsPattern("patients.csv +0 +1 +0\\R");
	}

	@Test
	void importOfNothingIsRefused(CapturedOutput output) {
		assertThat(run(this.importCommand, this.folder.resolve("none").toString())).isEqualTo(1);
		assertThat(output.getErr()).contains("bundle: found nothing under this name; expected a folder or a ZIP file");
	}

	@Test
	void exportWritesAFolderOrAZipFileAndOverwritesNeither(CapturedOutput output) {
		for (String name : new String[] { "out", "out.zip" }) {
			String target = this.folder.resolve(name).toString();
			assertThat(run(this.exportCommand, target)).isZero();
			assertThat(run(this.exportCommand, target)).isEqualTo(1);
			assertThat(output.getErr()).contains("Nothing was exported: there is something at " + target + " already.");
		}
		assertThat(Files.isDirectory(this.folder.resolve("out"))).isTrue();
		assertThat(Files.isRegularFile(this.folder.resolve("out.zip"))).isTrue();
	}

	@Test
	void wrongUsageIsSaid(CapturedOutput output) {
		assertThat(run(this.importCommand)).isEqualTo(2);
		assertThat(run(this.exportCommand, "one", "two")).isEqualTo(2);
		assertThat(output.getErr()).contains("FILE_OR_FOLDER");
	}

	private static int run(Object command, String... arguments) {
		return new CommandLine(command).execute(arguments);
	}

}
