package org.seriatim;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * {@code docs/security.md} answers every requirement of level 1 once, names a test for
 * what it says is met, and names nothing that is not there.
 */
class SecurityDocumentTests {

	private static final Path DOCUMENT = Path.of("docs/security.md");

	private static final Path LEVEL_ONE = Path.of("src/test/resources/security/asvs-5.0.0-level-1.txt");

	private static final Pattern ROW = Pattern
		.compile("(?m)^\\| (\\d+\\.\\d+\\.\\d+) \\| [^|]+ \\| ([^|]+) \\| ([^|]+) \\|$");

	private static final Pattern CLASS = Pattern.compile("`([A-Z]\\w+)(?:\\.([a-z]\\w+))?`");

	private static final Pattern FILE = Pattern
		.compile("[`(]([\\w./-]+\\.(?:java|md|js|css|html|sql|properties|yml|txt|csv|service))[`)#]");

	private static final String TEST = "Tests";

	@Test
	void answersEveryRequirementOfLevelOneOnce() {
		var numbers = read(LEVEL_ONE).lines().filter((line) -> !line.startsWith("#")).toList();
		assertThat(numbers).hasSize(70);
		assertThat(rows().map((row) -> row.group(1))).containsExactlyElementsOf(numbers);
	}

	@Test
	void saysHowEachStandsAndNamesATestForWhatIsMet() {
		assertThat(rows()).allSatisfy((row) -> {
			assertThat(row.group(2)).as(row.group(1)).isIn("met", "the clinic's part", "does not apply", "open");
			if (row.group(2).equals("met")) {
				assertThat(CLASS.matcher(row.group(3)).results().map((name) -> name.group(1))).as(row.group(1))
					.anyMatch((name) -> name.endsWith(TEST));
			}
		});
	}

	@Test
	void namesOnlyWhatIsThere() throws IOException {
		List<Path> files;
		try (var found = Stream.of("src", "db", "docs").flatMap((folder) -> walk(Path.of(folder)))) {
			files = found.filter(Files::isRegularFile).toList();
		}
		var document = read(DOCUMENT);
		var missing = new ArrayList<String>();
		CLASS.matcher(document).results().forEach((name) -> {
			var sources = files.stream()
				.filter((file) -> file.getFileName().toString().equals(name.group(1) + ".java"))
				.map(SecurityDocumentTests::read)
				.toList();
			if (sources.isEmpty() || name.group(2) != null
					&& sources.stream().noneMatch((source) -> source.contains(" " + name.group(2) + "("))) {
				missing.add(name.group());
			}
		});
		FILE.matcher(document)
			.results()
			.map((name) -> name.group(1))
			.filter((name) -> files.stream()
				.noneMatch((file) -> file.endsWith(name) || file.equals(Path.of("docs").resolve(name))))
			.forEach(missing::add);
		assertThat(missing).isEmpty();
	}

	private static Stream<MatchResult> rows() {
		return ROW.matcher(read(DOCUMENT)).results();
	}

	private static Stream<Path> walk(Path folder) {
		try {
			return Files.walk(folder);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static String read(Path file) {
		try {
			return Files.readString(file);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

}
