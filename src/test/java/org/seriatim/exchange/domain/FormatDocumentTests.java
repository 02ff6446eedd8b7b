package org.seriatim.exchange.domain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

import org.junit.jupiter.api.Test;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Column;
import org.seriatim.bundle.Reference;
import org.seriatim.bundle.RowRule;
import org.seriatim.support.DatabaseTest;

import org.springframework.beans.factory.annotation.Autowired;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Outsiders write bundles by the document, so it says of each column what the service
 * expects.
 */
@DatabaseTest
class FormatDocumentTests {

	private static final Path DOCUMENT = Path.of("docs/exchange-bundle.md");

	@Autowired
	private BundleSections sections;

	@Test
	void theDocumentSaysWhatTheServiceExpects() throws IOException {
		String document = Files.readString(DOCUMENT);
		for (BundleSection section : this.sections.inOrder()) {
			assertThat(document).contains(described(section));
		}
	}

	private static String described(BundleSection section) {
		BundleFile file = section.file();
		StringBuilder text = new StringBuilder("### ").append(file.name())
			.append("\n\n| Column | | Holds |\n| --- | --- | --- |\n");
		for (Column column : file.columns()) {
			String need = file.key().contains(column.name()) ? "key" : column.required() ? "required" : "";
			text.append("| `%s` | %s | %s |\n".formatted(column.name(), need, column.kind().expected()));
		}
		text.append('\n');
		for (Reference reference : file.references()) {
			text.append("- %s: %s, in %s or on record\n".formatted(names(reference.columns()), reference.meant(),
					reference.file()));
		}
		for (RowRule rule : file.rules()) {
			text.append("- `%s`: %s\n".formatted(rule.columns().get(0), rule.expected()));
		}
		section.checks()
			.stream()
			.filter((check) -> check.file().equals(file.name()))
			.forEach((check) -> text.append("- `%s`: %s\n".formatted(check.column(), check.expected())));
		return text.toString();
	}

	private static String names(Iterable<String> columns) {
		StringBuilder names = new StringBuilder();
		for (String column : columns) {
			names.append(names.isEmpty() ? "" : ", ").append('`').append(column).append('`');
		}
		return names.toString();
	}

}
