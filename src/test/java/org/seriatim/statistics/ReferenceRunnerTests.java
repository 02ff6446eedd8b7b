package org.seriatim.statistics;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * The runner itself: cases that must fail do, each with a line that says why.
 */
class ReferenceRunnerTests {

	@TempDir
	private Path folder;

	private String report(String... cases) throws Exception {
		Files.writeString(this.folder.resolve("own.json"), "{\"cases\": [" + String.join(",", cases) + "]}");
		ReferenceCases runner = new ReferenceCases(ReferenceCasesTests.methods());
		runner.run(this.folder);
		ByteArrayOutputStream out = new ByteArrayOutputStream();
		runner.report(new PrintStream(out, true, StandardCharsets.UTF_8));
		return out.toString(StandardCharsets.UTF_8);
	}

	private static String wilson(String id, String expected) {
		return """
				{"id": "%s", "method": "proportion_ci", "input": {"x": 81, "n": 263, "confidence": 0.95},
				 "expected": %s, "tolerance": {"abs": 0.00005, "rel": 0}}""".formatted(id, expected);
	}

	@Test
	void countsWhatPassesAndNamesWhatFails() throws Exception {
		String report = report(wilson("right", "{\"wilsonLower\": 0.2553}"),
				wilson("wrong", "{\"wilsonLower\": 0.2554}"));
		assertThat(report).contains("FAILED own.json wrong: wilsonLower should be 0.2554, is 0.2552")
			.endsWith("1 passed, 1 failed" + System.lineSeparator());
	}

	@Test
	void failsOnFieldsAndMethodsThatItDoesNotKnow() throws Exception {
		assertThat(report(wilson("field", "{\"wilsonMiddle\": 0.3}"))).contains("wilsonMiddle was not computed");
		assertThat(report(wilson("method", "{}").replace("proportion_ci", "divination")))
			.contains("no method named divination");
	}

	@Test
	void failsOnARefusalThatWasNotExpectedAndOnAResultThatWas() throws Exception {
		assertThat(report(wilson("refused", "{\"wilsonLower\": 0.3}").replace("81", "300")))
			.contains("wilsonLower was not computed");
		assertThat(report(wilson("accepted", "{\"status\": \"invalidInput\"}"))).contains("status was not computed");
	}

	@Test
	void holdsNullAgainstNumbers() throws Exception {
		assertThat(report(wilson("null", "{\"wilsonLower\": null}"))).contains("should be null");
		assertThat(report(wilson("number", "{\"wilsonLower\": 0}").replace("81", "0").replace("263", "0")))
			.contains("should be 0, is null");
	}

}
