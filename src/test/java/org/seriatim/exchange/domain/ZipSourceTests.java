package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.RandomAccessFile;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipOutputStream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

/** A ZIP file may come from anywhere. */
class ZipSourceTests {

	@TempDir
	private Path folder;

	@Test
	void readsFilesAtTheTop() throws Exception {
		try (BundleSource source = BundleSource.of(zip("patients.csv", "scars.csv", "read.me"))) {
			assertThat(source.names()).containsExactly("patients.csv", "scars.csv");
			assertThat(content(source, "scars.csv")).isEqualTo("content of scars.csv");
		}
	}

	@Test
	void readsFilesInOneFolder() throws Exception {
		try (BundleSource source = BundleSource.of(zip("clinic/", "clinic/patients.csv", "clinic/scars.csv",
				"__MACOSX/clinic/._scars.csv", "clinic/.hidden.csv", "notes/a.txt"))) {
			assertThat(source.names()).containsExactly("patients.csv", "scars.csv");
			assertThat(content(source, "scars.csv")).isEqualTo("content of clinic/scars.csv");
		}
	}

	@Test
	void refusesFilesInSeveralFolders() throws IOException {
		refuses(zip("a/patients.csv", "b/scars.csv"), "CSV files in several folders of the ZIP file");
	}

	@Test
	void refusesAFileTwice() throws IOException {
		refuses(zip("a/patients.csv", "b/patients.csv"), "more than one patients.csv in the ZIP file");
	}

	@Test
	void refusesPathsThatLeadOut() throws IOException {
		for (String path : List.of("../patients.csv", "a/../../patients.csv", "/patients.csv", "..\\patients.csv")) {
			refuses(zip(path), "a file of the ZIP file whose path leads out of it");
		}
	}

	@Test
	void refusesAFileThatIsNoZip() throws IOException {
		refuses(Files.writeString(this.folder.resolve("text.zip"), "no ZIP file"), "a file that is not a ZIP file");
		refuses(Files.createFile(this.folder.resolve("empty.zip")), "a file that is not a ZIP file");
	}

	@Test
	void refusesACutZip() throws IOException {
		Path zip = zip("patients.csv", "scars.csv");
		try (RandomAccessFile file = new RandomAccessFile(zip.toFile(), "rw")) {
			file.setLength(file.length() - 30);
		}
		refuses(zip, "a file that is not a ZIP file");
	}

	@Test
	void refusesMoreEntriesThanABundleHas() throws IOException {
		String[] names = new String[1_001];
		for (int i = 0; i < names.length; i++) {
			names[i] = i + ".csv";
		}
		refuses(zip(names), "a ZIP file with 1001 entries");
	}

	@Test
	void refusesWhatIsNotThere() {
		refuses(this.folder.resolve("nothing"), "nothing under this name");
	}

	@Test
	void noticesAFileThatIsNotWhatItWas() throws Exception {
		Path zip = this.folder.resolve("damaged.zip");
		try (OutputStream out = Files.newOutputStream(zip); ZipOutputStream entries = new ZipOutputStream(out)) {
			entries.setLevel(0);
			entries.putNextEntry(new ZipEntry("patients.csv"));
			entries.write("record_number".getBytes(StandardCharsets.UTF_8));
		}
		byte[] bytes = Files.readAllBytes(zip);
		bytes[new String(bytes, StandardCharsets.ISO_8859_1).indexOf("record_number")] = 'R';
		Files.write(zip, bytes);
		try (BundleSource source = BundleSource.of(zip)) {
			assertThatExceptionOfType(ZipException.class).isThrownBy(() -> content(source, "patients.csv"));
		}
	}

	private static void refuses(Path bundle, String found) {
		assertThatExceptionOfType(UnreadableBundle.class).isThrownBy(() -> BundleSource.of(bundle))
			.satisfies((ex) -> assertThat(ex.problem().found()).isEqualTo(found));
	}

	private static String content(BundleSource source, String name) throws IOException {
		try (InputStream in = source.open(name)) {
			return new String(in.readAllBytes(), StandardCharsets.UTF_8);
		}
	}

	private Path zip(String... names) throws IOException {
		Path zip = Files.createTempFile(this.folder, "bundle", ".zip");
		try (OutputStream out = Files.newOutputStream(zip); ZipOutputStream entries = new ZipOutputStream(out)) {
			for (String name : names) {
				entries.putNextEntry(new ZipEntry(name));
				if (!name.endsWith("/")) {
					entries.write(("content of " + name).getBytes(StandardCharsets.UTF_8));
				}
			}
		}
		return zip;
	}

}
