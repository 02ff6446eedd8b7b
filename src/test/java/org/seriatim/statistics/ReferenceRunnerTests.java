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

	private static String plain(String id, String method, String input, String expected) {
		return """
				{"id": "%s", "method": "%s", "input": %s, "expected": %s, "tolerance": {"abs": 1e-9, "rel": 0}}"""
			.formatted(id, method, input, expected);
	}

	@Test
	void namesAFileThatCannotBeReadAndRunsTheOthers() throws Exception {
		Files.writeString(this.folder.resolve("broken.json"), "{\"cases\": [");
		Files.writeString(this.folder.resolve("index.json"), "{\"datasets\": []}");
		Files.createDirectory(this.folder.resolve("inner"));
		Files.writeString(this.folder.resolve("inner/deep.json"), "[" + wilson("deep", "{\"wilsonLower\": 0.5}") + "]");
		assertThat(report(wilson("right", "{\"wilsonLower\": 0.2553}"))).contains("FAILED broken.json: cannot be read")
			.contains("deep.json deep: wilsonLower should be 0.5")
			.doesNotContain("index.json")
			.endsWith("1 passed, 2 failed" + System.lineSeparator());
	}

	@Test
	void namesWhatACaseLacks() throws Exception {
		assertThat(report("{\"id\": \"a\", \"input\": {}, \"expected\": {}}")).contains("a: ", "there is no method");
		assertThat(report("{\"method\": \"quantile\", \"input\": {\"x\": [1]}, \"expected\": {}}"))
			.contains("(without id): ", "there is no p");
		assertThat(report(plain("b", "quantile", "{\"x\": [1], \"p\": [0.5]}", "null"))).contains("FAILED own.json b");
		assertThat(report(plain("c", "kappa", "{\"table\": [[1]], \"weights\": \"cubic\"}", "{}")))
			.contains("nothing is named", "cubic");
		assertThat(
				report(plain("d", "cluster_bootstrap_percentile", "{\"clusters\": [], \"statistic\": \"mode\"}", "{}")))
			.contains("no statistic named mode");
		assertThat(report(plain("e", "distribution", "{\"fn\": \"gammaCdf\"}", "{}"))).contains("no function named");
	}

	@Test
	void takesAnInputFromAnotherCaseButNotInACircle() throws Exception {
		String shared = plain("a", "quantile", "{\"x\": [1, 2, 3], \"p\": [0.5]}", "{\"median\": 2}");
		assertThat(report(shared, plain("b", "quantile", "{\"sameInputAs\": \"a\", \"p\": [0]}", "{\"type7\": [1]}")))
			.contains("2 passed, 0 failed");
		assertThat(report(plain("a", "quantile", "{\"sameInputAs\": \"b\"}", "{}"),
				plain("b", "quantile", "{\"sameInputAs\": \"a\"}", "{}")))
			.contains("in a circle", "0 passed, 2 failed");
		assertThat(report(plain("a", "quantile", "{\"sameInputAs\": \"z\"}", "{}"))).contains("no case z");
	}

	@Test
	void refusesWhatIsNoDatum() throws Exception {
		String refused = "{\"status\": \"invalidInput\"}";
		assertThat(report(plain("null time", "kaplan_meier", "{\"time\": [null], \"event\": [1]}", refused),
				plain("event 2", "kaplan_meier", "{\"time\": [1], \"event\": [2]}", refused),
				plain("null event", "kaplan_meier", "{\"time\": [1], \"event\": [null]}", refused),
				plain("lengths", "kaplan_meier", "{\"time\": [1, 2], \"event\": [1]}", refused),
				plain("half", "proportion_ci", "{\"x\": 0.5, \"n\": 3}", refused),
				plain("null", "proportion_ci", "{\"x\": null, \"n\": 3}", refused),
				plain("infinite left", "turnbull_npmle", "{\"left\": [\"Inf\"], \"right\": [\"Inf\"]}", refused),
				plain("clusters", "cluster_robust", "{\"y\": [1, 2], \"cluster\": [\"a\"]}", refused),
				plain("groups", "rao_scott_test", "{\"x\": [1, 2], \"n\": [3, 3], \"group\": [\"a\", null]}", refused),
				plain("table", "kappa", "{\"table\": [[1, 2], [3]], \"weights\": \"linear\"}", refused)))
			.contains("10 passed, 0 failed");
	}

	@Test
	void readsEveryFormOfInfinityAndOfNothing() throws Exception {
		for (String infinity : new String[] { "null", "\"Inf\"", "\"Infinity\"" }) {
			assertThat(report(plain("right", "turnbull_npmle", "{\"left\": [2], \"right\": [" + infinity + "]}",
					"{\"median\": {\"lower\": 2, \"upper\": " + infinity + "}}")))
				.contains("1 passed, 0 failed");
		}
		assertThat(report(
				plain("of one that does not exist", "kaplan_meier", "{\"time\": [], \"event\": []}",
						"{\"status\": \"notEstimable\", \"median\": null}"),
				plain("list", "random_intercept_reml", "{\"y\": [1, 2, 2, 1], \"group\": [\"a\", \"a\", \"b\", \"b\"]}",
						"{\"singular\": true, \"dfSatterthwaite\": null}")))
			.contains("2 passed, 0 failed");
	}

	@Test
	void knowsWhatMayBeLeftOut() throws Exception {
		assertThat(report(
				plain("path", "cusum_path", "{\"y\": [1, 0], \"p\": 0.1, \"oddsRatio\": 2, \"h\": 0.5}",
						"{\"signals\": [1, 2]}"),
				plain("dispersion", "funnel_overdispersion", "{\"x\": [1, 2], \"n\": [9, 9], \"target\": 0.1}",
						"{\"phiUsed\": 1}"),
				plain("labels", "logrank", "{\"time\": [1, 2], \"event\": [1, 1], \"group\": [1, 2]}",
						"{\"groups\": [1, 2], \"df\": 1}"),
				plain("confidence", "proportion_ci", "{\"x\": 0, \"n\": 0}", "{\"wilsonLower\": null}")))
			.contains("4 passed, 0 failed");
	}

	@Test
	void keepsToBoundsAndBrackets() throws Exception {
		String input = "{\"left\": [2, 3], \"right\": [5, 9]}";
		assertThat(report(plain("most", "turnbull_npmle", input, "{\"kktRelativeExcessAtMost\": -1}")))
			.contains("kktRelativeExcessAtMost should be within ..-1");
		String clusters = "{\"clusters\": [[1], [2], [3]], \"statistic\": \"pooled mean\", \"replicates\": 199}";
		assertThat(report(plain("in", "cluster_bootstrap_percentile", clusters, "{\"sdBracket\": [0.3, 0.6]}"),
				plain("out", "cluster_bootstrap_percentile", clusters, "{\"sdBracket\": [0.6, null]}")))
			.contains("out: sdBracket should be within 0.6..null", "1 passed, 1 failed");
	}

}
