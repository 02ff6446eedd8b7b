package org.seriatim.shell;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.regex.Pattern;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

import static org.assertj.core.api.Assertions.assertThat;

/** What the stylesheets and templates promise, read from the files themselves. */
class PageFilesTests {

	private static final Path RESOURCES = Path.of("src/main/resources");

	private static final Path TOKENS = RESOURCES.resolve("static/css/tokens.css");

	private static final Pattern COLOUR = Pattern.compile("#[0-9a-fA-F]{3,8}\\b|\\b(?:rgb|hsl|oklch|lab)a?\\(");

	private static final Pattern TOKEN = Pattern.compile("--(colour-[a-z0-9-]+): (#[0-9a-f]{3,6});");

	@Test
	void namesColoursInTheTokensOnly() {
		assertThat(files("static/css", ".css").filter((file) -> !file.equals(TOKENS))).isNotEmpty()
			.allSatisfy((file) -> assertThat(read(file)).as(file.toString()).doesNotContainPattern(COLOUR));
	}

	@Test
	void usesNoTokenThatIsNotDefined() {
		var defined = Pattern.compile("(--[a-z0-9-]+):")
			.matcher(read(TOKENS))
			.results()
			.map((m) -> m.group(1))
			.toList();
		assertThat(files("static/css", ".css")).allSatisfy((file) -> {
			var used = Pattern.compile("var\\((--[a-z0-9][a-z0-9-]*)")
				.matcher(read(file))
				.results()
				.map((m) -> m.group(1))
				.toList();
			assertThat(defined).as(file.toString()).containsAll(used);
		});
	}

	@Test
	void joinsEveryComponent() {
		var entry = read(RESOURCES.resolve("static/css/seriatim.css"));
		assertThat(files("static/css/components", ".css")).isNotEmpty()
			.allSatisfy((file) -> assertThat(entry)
				.contains("@import url(\"components/" + file.getFileName() + "\") layer(components);"));
	}

	@Test
	void keepsStyleAndScriptOutOfTheTemplates() {
		assertThat(files("templates", ".html")).isNotEmpty()
			.allSatisfy((file) -> assertThat(read(file)).as(file.toString())
				.doesNotContainPattern(
						"\\sstyle=|<style|\\son[a-z]+=\"|<script(?! defer th:nonce=\"\\$\\{pageNonce}\" th:src)"));
	}

	/* What was typed is shown as it was typed, never taken for markup or for a script. */
	@Test
	void writesNothingThatIsNotEscaped() {
		assertThat(files("templates", ".html")).allSatisfy((file) -> assertThat(read(file)).as(file.toString())
			.doesNotContain("th:utext", "th:inline", "[(", "data-th-utext"));
		assertThat(files("static/js", ".js")).isNotEmpty()
			.allSatisfy((file) -> assertThat(read(file)).as(file.toString())
				.doesNotContainPattern(
						"innerHTML|outerHTML|insertAdjacentHTML|document\\.write|\\beval\\(|new Function|srcdoc"));
	}

	/* OWASP ASVS 5.0.0, 6.2.6 and 6.2.7: masked, and left to the manager of passwords. */
	@Test
	void asksForEveryPasswordByTheOneField() {
		var field = read(RESOURCES.resolve("templates/fragments/field.html"));
		assertThat(field).contains("<input class=\"input secret__input\" type=\"password\"");
		assertThat(files("templates", ".html")).allSatisfy((file) -> {
			var text = read(file);
			assertThat(text).as(file.toString())
				.doesNotContain("onpaste", "oncopy", "autocomplete=\"off\" type=\"password\"");
			assertThat(
					text.lines().filter((line) -> line.contains("name='password'") || line.contains("name='current'")))
				.as(file.toString())
				.allSatisfy((line) -> assertThat(line).contains("field :: password(")
					.containsPattern("autocomplete='(new|current)-password'"));
		});
	}

	/*
	 * Thymeleaf includes a fragment before it looks at a condition or a repetition of the
	 * same element, which then never takes effect.
	 */
	@Test
	void putsConditionsAndRepetitionsAroundInclusions() {
		var tag = Pattern.compile("<[a-z][^<>]*?\\sth:(?:replace|insert)=(?:\"[^\"]*\"|[^>\"])*>");
		assertThat(files("templates", ".html"))
			.allSatisfy((file) -> assertThat(tag.matcher(read(file)).results().map((match) -> match.group()))
				.as(file.toString())
				.noneMatch((element) -> element.matches("(?s).*\\sth:(?:if|unless|each|switch|case)=.*")));
	}

	/* A missing text would show as its key between question marks. */
	@Test
	void hasATextForEveryKeyOfTheTemplates() throws IOException {
		var texts = new Properties();
		for (var file : files("messages", ".properties").toList()) {
			try (var text = Files.newBufferedReader(file)) {
				texts.load(text);
			}
		}
		assertThat(files("templates", ".html"))
			.allSatisfy((file) -> assertThat(texts.stringPropertyNames()).as(file.toString())
				.containsAll(Pattern.compile("#\\{([a-z][A-Za-z0-9_.-]*)(?:\\(|})")
					.matcher(read(file))
					.results()
					.map((key) -> key.group(1))
					.toList()));
	}

	/* WCAG 2.2, 1.4.3: text reaches 4.5:1 on what it stands on, in both schemes. */
	@ParameterizedTest
	@ValueSource(strings = { "light", "dark" })
	void givesEveryTextEnoughContrast(String scheme) {
		var colours = colours(scheme);
		for (var surface : List.of("page", "surface", "sunken", "hover")) {
			for (var text : List.of("text", "text-quiet", "action", "action-strong", "error", "better", "worse", "same",
					"hold", "wait", "review", "window", "overdue")) {
				assertContrast(colours, text, surface, 4.5);
			}
		}
		for (var meaning : List.of("hold", "wait", "review", "window", "overdue")) {
			assertContrast(colours, meaning, meaning + "-soft", 4.5);
		}
		assertContrast(colours, "on-action", "action", 4.5);
		assertContrast(colours, "on-action", "action-strong", 4.5);
		assertContrast(colours, "text", "action-soft", 4.5);
	}

	/* WCAG 2.2, 1.4.11: what has to be seen to be used or understood reaches 3:1. */
	@ParameterizedTest
	@ValueSource(strings = { "light", "dark" })
	void givesEveryControlAndMarkEnoughContrast(String scheme) {
		var colours = colours(scheme);
		for (var surface : List.of("page", "surface")) {
			for (var mark : List.of("control-line", "focus", "plot-1", "plot-2", "plot-3", "plot-4", "plot-5",
					"plot-6")) {
				assertContrast(colours, mark, surface, 3);
			}
		}
	}

	private static void assertContrast(Map<String, String> colours, String text, String surface, double least) {
		var ratio = contrast(colours.get("colour-" + text), colours.get("colour-" + surface));
		assertThat(ratio).as(text + " on " + surface).isGreaterThanOrEqualTo(least);
	}

	private static Map<String, String> colours(String scheme) {
		var sheet = read(TOKENS);
		var dark = sheet.indexOf("@media (prefers-color-scheme: dark)");
		var print = sheet.indexOf("@media print");
		assertThat(dark).isPositive();
		assertThat(print).isGreaterThan(dark);
		var colours = new HashMap<String, String>();
		TOKEN.matcher(sheet.substring(0, dark))
			.results()
			.forEach((token) -> colours.put(token.group(1), token.group(2)));
		if (scheme.equals("dark")) {
			TOKEN.matcher(sheet.substring(dark, print))
				.results()
				.forEach((token) -> colours.put(token.group(1), token.group(2)));
		}
		return colours;
	}

	/* WCAG 2.2, "contrast ratio" and "relative luminance". */
	private static double contrast(String one, String other) {
		var first = luminance(one);
		var second = luminance(other);
		return (Math.max(first, second) + 0.05) / (Math.min(first, second) + 0.05);
	}

	private static double luminance(String hex) {
		return 0.2126 * channel(hex, 1) + 0.7152 * channel(hex, 3) + 0.0722 * channel(hex, 5);
	}

	private static double channel(String hex, int at) {
		var value = Integer.parseInt(hex.substring(at, at + 2), 16) / 255.0;
		return (value <= 0.04045) ? value / 12.92 : Math.pow((value + 0.055) / 1.055, 2.4);
	}

	private static Stream<Path> files(String folder, String ending) {
		try (var found = Files.walk(RESOURCES.resolve(folder))) {
			return found.filter((file) -> file.toString().endsWith(ending)).sorted().toList().stream();
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
