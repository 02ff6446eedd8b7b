package org.seriatim;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.springframework.core.io.ClassPathResource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * What the service brings along, as the bill of materials in its jar says (CycloneDX): of
 * one version each, under a licence that the clinic may rely on, and listed in
 * {@code docs/dependencies.md}.
 */
class DependencyListTests {

	private static final Path DOCUMENT = Path.of("docs/dependencies.md");

	private static final Pattern ROW = Pattern.compile("(?m)^\\| [^|]+:[^|]+ \\| [^|]+ \\| [^|]+ \\|$");

	/** Licences that allow use and passing on without touching our own code's licence. */
	private static final Set<String> TAKEN = Set.of("Apache-2.0", "MIT", "BSD-2-Clause", "BSD-3-Clause", "0BSD",
			"CC0-1.0", "EPL-2.0", "PostgreSQL");

	/** Declared otherwise than they are given; why stands in the document. */
	private static final Map<String, String> MISDECLARED = Map.of("Broadcom Foundation License", "Apache-2.0");

	@Test
	void comesUnderLicencesThatMayBePassedOn() {
		assertThat(components()).isNotEmpty()
			.allSatisfy((component) -> assertThat(component.licences()).as(component.coordinates())
				.containsAnyElementsOf(TAKEN));
	}

	@Test
	void hasOneReleasedVersionEach() {
		assertThat(components()).allSatisfy(
				(component) -> assertThat(component.version()).as(component.coordinates()).doesNotContain("SNAPSHOT"));
		assertThat(components().map(Component::coordinates)).doesNotHaveDuplicates();
	}

	@Test
	void isListedInTheDocument() throws IOException {
		var rows = ROW.matcher(Files.readString(DOCUMENT)).results().map((row) -> row.group()).toList();

		assertThat(rows).containsExactlyInAnyOrderElementsOf(components().map(Component::row).toList());
	}

	private static Stream<Component> components() {
		return bill().path("components").valueStream().map(Component::of);
	}

	private static JsonNode bill() {
		try (var bytes = new ClassPathResource("META-INF/sbom/application.cdx.json").getInputStream()) {
			return JsonMapper.shared().readTree(bytes);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private record Component(String coordinates, String version, List<String> licences) {

		static Component of(JsonNode node) {
			var licences = node.path("licenses")
				.valueStream()
				.map((entry) -> entry.has("expression") ? entry.path("expression").asString() : named(entry))
				.map((licence) -> MISDECLARED.getOrDefault(licence, licence))
				.toList();
			return new Component(node.path("group").asString() + ":" + node.path("name").asString(),
					node.path("version").asString(), licences);
		}

		private static String named(JsonNode entry) {
			var licence = entry.path("license");
			return licence.has("id") ? licence.path("id").asString() : licence.path("name").asString();
		}

		String row() {
			return "| %s | %s | %s |".formatted(this.coordinates, this.version,
					this.licences.stream().collect(Collectors.joining(" or ")));
		}

	}

}
