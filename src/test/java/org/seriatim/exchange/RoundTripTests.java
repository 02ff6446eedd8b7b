package org.seriatim.exchange;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.bundle.BundleFormat;
import org.seriatim.support.PageTest;

import org.springframework.beans.factory.annotation.Autowired;

import static org.assertj.core.api.Assertions.assertThat;

/** What goes in comes out, and what comes out goes in. */
@PageTest
class RoundTripTests {

	@Autowired
	private BundleImport bundleImport;

	@Autowired
	private BundleExport bundleExport;

	@TempDir
	private Path folder;

	@Test
	void theSampleClinicIsTakenWhole() throws IOException {
		ImportResult result = this.bundleImport.take(SampleBundle.FOLDER, false, ImportProgress.UNWATCHED);
		assertThat(problems(result)).isEmpty();
		this.bundleExport.to(this.folder.resolve("out"));
		for (String name : BundleFormat.FILES) {
			List<Map<String, String>> given = SampleBundle.rows(SampleBundle.FOLDER.resolve(name));
			List<Map<String, String>> written = SampleBundle.rows(this.folder.resolve("out").resolve(name));
			assertThat(written).as(name).containsExactlyInAnyOrderElementsOf(given);
		}
		this.bundleExport.to(this.folder.resolve("again"));
		assertThat(bytes(this.folder.resolve("again"))).isEqualTo(bytes(this.folder.resolve("out")));
	}

	private static List<Problem> problems(ImportResult result) {
		return (result instanceof ImportResult.Refused refused) ? refused.problems().first() : List.of();
	}

	private static Map<String, String> bytes(Path folder) throws IOException {
		Map<String, String> bytes = new TreeMap<>();
		try (DirectoryStream<Path> files = Files.newDirectoryStream(folder)) {
			for (Path file : files) {
				bytes.put(file.getFileName().toString(), Files.readString(file));
			}
		}
		return bytes;
	}

}
