package org.seriatim.outcome.web;

import java.io.IOException;
import java.io.StringReader;
import java.net.URI;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.StreamSupport;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.seriatim.access.Role;
import org.seriatim.access.domain.ApiTokens;
import org.seriatim.exchange.BundleImport;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * On every view of the clinic's figures, and in the report: each table has a file, the
 * table shows the numbers of the file rounded to what it shows, and what is drawn are
 * numbers of the file.
 */
@PageTest
@OneDatabase
class SameFiguresTests {

	private static final JsonMapper JSON = JsonMapper.builder().build();

	private static final Pattern NUMBER = Pattern.compile("[-−]?\\d[\\d,]*(\\.\\d+)?");

	@Autowired
	MockMvcTester pages;

	@Autowired
	TestStaff staff;

	@Autowired
	ApiTokens tokens;

	@Autowired
	BundleImport records;

	@Autowired
	JdbcClient database;

	@BeforeEach
	void loadTheSampleClinicOnce() {
		OutcomeFiles.loadTheSampleClinicOnce(this.database, this.records);
	}

	/** A file that a view links to, with its table on the page. */
	private record Filed(String address, List<String> columns, List<CSVRecord> rows, Element table, Element section) {
	}

	@ParameterizedTest
	@ValueSource(strings = { "/outcomes/improvement", "/outcomes/improvement?to=2026-03-31&scar_type=boxcar",
			"/outcomes/complications", "/outcomes/complications?group=region",
			"/outcomes/complications?kind=bruise&group=practitioner", "/outcomes/complications?kind=lump&group=lot",
			"/outcomes/complications?kind=infection_local", "/outcomes/lumps", "/outcomes/lumps?group=layer",
			"/outcomes/repeatability", "/outcomes/data-quality" })
	void tablesAndPlotsHoldTheFiguresOfTheFiles(String address) {
		var page = page(address, Role.PRACTITIONER);
		var filed = filed(page, Role.PRACTITIONER);
		assertThat(filed).isNotEmpty();
		filed.forEach(SameFiguresTests::assertSame);
		var tables = page.select("main table.table").stream().map(SameFiguresTests::caption).distinct().toList();
		assertThat(filed.stream().map((one) -> caption(one.table())).distinct().toList()).as("tables with a file")
			.containsAll(tables);
		var drawn = page.select("[data-plot]");
		for (Element plot : drawn) {
			assertDrawn(plot, filed);
		}
		assertThat(drawn.isEmpty()).isEqualTo(
				address.equals("/outcomes/complications") || address.equals("/outcomes/complications?group=region"));
	}

	@Test
	void recallHoldsTheFiguresOfItsFile() {
		var filed = filed(page("/outcomes/recall?lot=LT40", Role.CLINIC_LEAD), Role.CLINIC_LEAD);
		assertThat(filed).singleElement().satisfies(SameFiguresTests::assertSame);
		assertThat(filed.get(0).rows()).extracting((row) -> row.get("record_number"))
			.containsExactlyElementsOf(filed.get(0).table().select("tbody th").eachText());
	}

	@Test
	void reportHoldsTheFiguresOfEachFileThatItNames() {
		var filed = filed(page("/outcomes/report?quarter=2026-Q1", Role.CLINIC_LEAD), Role.PRACTITIONER);
		assertThat(filed).hasSizeGreaterThan(9).allSatisfy(SameFiguresTests::assertSame);
	}

	/** A script with the token of a person gets the bytes that the person gets. */
	@Test
	void aTokenOpensTheSameFiles() {
		this.staff.named("s.cript", Role.PRACTITIONER);
		var token = this.tokens.makeFor("s.cript").orElseThrow();
		for (String address : List.of("/outcomes/improvement.csv", "/outcomes/complications.csv?group=region",
				"/outcomes/lumps.csv?group=layer", "/outcomes/repeatability.csv", "/outcomes/data-quality.csv")) {
			assertThat(this.pages.get().uri(URI.create(address)).header("Authorization", "Bearer " + token))
				.hasStatusOk()
				.bodyText()
				.isEqualTo(text(address, Role.PRACTITIONER));
		}
	}

	private static String caption(Element table) {
		return table.select("caption").text();
	}

	private List<Filed> filed(Document page, Role reader) {
		var filed = new ArrayList<Filed>();
		for (Element link : page.select("main a[href*=.csv]")) {
			var address = link.attr("href");
			var caption = link.text().replaceFirst("^CSV: ", "");
			var section = link.closest("section.stack");
			var scope = (section != null) ? section : page.body();
			var card = link.closest(".card__body");
			// the table of a plot stands in its card, the others beside the cards
			var table = ((card != null) ? card : scope).select("table.table")
				.stream()
				.filter((one) -> caption(one).equals(caption) && (card != null || one.closest("figure") == null))
				.findFirst()
				.orElseGet(() -> page.select("main table.table")
					.stream()
					.filter((one) -> caption(one).equals(caption) || isSpecial(address, caption(one)))
					.findFirst()
					.orElseThrow(() -> new AssertionError("no table for " + address + ": " + caption)));
			var parsed = parse(text(address, reader));
			var rows = parsed.getValue();
			if (address.startsWith("/outcomes/data-quality.csv") && !address.contains("table=")) {
				var kind = scope.id();
				rows = rows.stream().filter((row) -> row.get("problem").equals(kind)).toList();
				rows = rows.subList(0, Math.min(rows.size(), 100));
			}
			filed.add(new Filed(address, parsed.getKey(), rows, table, scope));
		}
		return filed;
	}

	/** Links that are not called by the caption of their table. */
	private static boolean isSpecial(String address, String caption) {
		return address.startsWith("/outcomes/recall.csv")
				|| address.startsWith("/outcomes/lumps.csv") && caption.startsWith("Lump durations by group")
				|| address.startsWith("/outcomes/lump-curve.csv") && caption.startsWith("The estimate")
				|| address.startsWith("/outcomes/lump-days.csv") && caption.startsWith("Share still present by day");
	}

	private static void assertSame(Filed filed) {
		var shown = filed.table().select("tbody tr");
		assertThat(shown).as(filed.address()).hasSameSizeAs(filed.rows());
		for (int i = 0; i < shown.size(); i++) {
			var row = filed.rows().get(i);
			var cells = shown.get(i).select("> th, > td");
			int column = 0;
			for (Element cell : cells) {
				var low = row.get(column);
				var text = shownText(cell);
				var where = filed.address() + ", row " + (i + 1) + ", " + filed.columns().get(column);
				if (isLow(filed.columns(), column)) {
					assertLimits(text, low, row.get(column + 1), where);
					column += 2;
				}
				else {
					assertNumber(text, low, where);
					column++;
				}
			}
			assertThat(column).as(filed.address()).isEqualTo(filed.columns().size());
		}
	}

	/** What stands in a cell without the limits that the page adds below it. */
	private static String shownText(Element cell) {
		var copy = cell.clone();
		copy.select(".quiet").remove();
		return copy.text().strip();
	}

	private static boolean isLow(List<String> columns, int column) {
		var name = columns.get(column);
		if (column + 1 == columns.size()) {
			return false;
		}
		var next = columns.get(column + 1);
		return (name.contains("low") && name.replace("low", "high").equals(next))
				|| (name.contains("left") && name.replace("left", "right").equals(next));
	}

	private static void assertLimits(String text, String low, String high, String where) {
		var numbers = numbers(text);
		if (low.isEmpty()) {
			assertThat(text).as(where).isEqualTo("–");
		}
		else if (high.isEmpty()) {
			assertThat(text).as(where).startsWith("beyond ");
			assertRounded(numbers.get(0), text, low, where);
		}
		else {
			assertRounded(numbers.get(0), text, low, where);
			assertRounded(numbers.get(numbers.size() - 1), text, high, where);
		}
	}

	private static void assertNumber(String text, String value, String where) {
		if (value.isEmpty()) {
			assertThat(text).as(where).isIn("–", "");
		}
		else if (isNumber(value) && numbers(text).size() == 1) {
			assertRounded(numbers(text).get(0), text, value, where);
		}
		else {
			assertThat(text).as(where).isNotEmpty().isNotEqualTo("–");
		}
	}

	private static boolean isNumber(String text) {
		return text.matches("-?\\d+(\\.\\d+)?");
	}

	private static List<String> numbers(String text) {
		return NUMBER.matcher(text).results().map((found) -> found.group().replace(",", "").replace('−', '-')).toList();
	}

	/** To the decimals that are shown; shares of the file are written in percent. */
	private static void assertRounded(String shown, String text, String value, String where) {
		int point = shown.indexOf('.');
		double half = 0.5000001 * Math.pow(10, (point < 0) ? 0 : -(shown.length() - point - 1));
		double expected = Double.parseDouble(value);
		assertThat(Double.parseDouble(shown)).as("%s: %s for %s", where, text, value)
			.satisfiesAnyOf((number) -> assertThat(Math.abs(number - expected)).isLessThanOrEqualTo(half), (number) -> {
				assertThat(text).contains("%");
				assertThat(Math.abs(number - 100 * expected)).isLessThanOrEqualTo(half);
			});
	}

	private static void assertDrawn(Element plot, List<Filed> filed) {
		var figure = plot.closest("figure");
		var caption = caption(figure.select("table").first());
		var file = filed.stream()
			.filter((one) -> caption(one.table()).equals(caption))
			.findFirst()
			.orElseThrow(() -> new AssertionError("no file for what is drawn: " + caption));
		var numbers = figuresToDraw(file);
		filed.stream()
			.filter((one) -> one.address().startsWith("/outcomes/lump-days.csv") && caption.startsWith("The estimate"))
			.forEach((days) -> numbers.addAll(figuresToDraw(days)));
		for (JsonNode series : JSON.readTree(plot.attr("data-plot")).get("series")) {
			for (JsonNode point : drawnFromTheFile(file, series)) {
				for (String part : List.of("y", "low", "high")) {
					var value = point.get(part);
					if (value != null && !value.isNull() && !isPosition(file, part)) {
						assertThat(contains(numbers, value.asDouble()))
							.as("%s %s of %s in %s", part, value, series.get("name"), file.address())
							.isTrue();
					}
				}
				if (isPosition(file, "y")) {
					assertThat(contains(numbers, point.get("x").asDouble())).as(file.address()).isTrue();
				}
			}
		}
	}

	/** In the forest plot values lie along the other axis. */
	private static boolean isPosition(Filed file, String part) {
		return file.address().startsWith("/outcomes/lump-effects.csv") && part.equals("y");
	}

	/**
	 * Limits of chance at sizes between the units are of no table, and of a cumulative
	 * sum the table holds the last one.
	 */
	private static List<JsonNode> drawnFromTheFile(Filed file, JsonNode series) {
		var points = StreamSupport.stream(series.get("points").spliterator(), false).toList();
		if (file.columns().contains("effective_size")) {
			return series.get("shape").asString().equals("points") ? points : List.of();
		}
		return file.columns().contains("threshold") ? points.subList(points.size() - 1, points.size()) : points;
	}

	private static TreeSet<Double> figuresToDraw(Filed file) {
		var numbers = new TreeSet<Double>();
		// where the courses of improvement begin
		numbers.add(0.0);
		if (file.address().startsWith("/outcomes/lump-curve.csv")) {
			numbers.addAll(stillPresent(file.rows()));
			return numbers;
		}
		for (CSVRecord row : file.rows()) {
			row.stream().filter(SameFiguresTests::isNumber).forEach((cell) -> numbers.add(Double.valueOf(cell)));
			if (file.columns().contains("second_mm")) {
				double first = Double.parseDouble(row.get("first_mm"));
				double second = Double.parseDouble(row.get("second_mm"));
				numbers.add(Math.log(second / first));
			}
		}
		return numbers;
	}

	/** Shares still present from the masses of each group, at their steps. */
	private static Set<Double> stillPresent(List<CSVRecord> masses) {
		var present = new TreeSet<Double>();
		Map<String, List<CSVRecord>> groups = masses.stream()
			.collect(Collectors.groupingBy((row) -> row.get("group"), LinkedHashMap::new, Collectors.toList()));
		groups.values().forEach((ofGroup) -> {
			double left = 1;
			present.add(left);
			for (CSVRecord row : ofGroup) {
				left -= Double.parseDouble(row.get("mass"));
				present.add(left);
			}
		});
		return present;
	}

	private static boolean contains(TreeSet<Double> numbers, double value) {
		double near = 1e-9 * Math.max(1, Math.abs(value));
		return !numbers.subSet(value - near, true, value + near, true).isEmpty();
	}

	private Document page(String address, Role reader) {
		return Jsoup.parse(text(address, reader));
	}

	private String text(String address, Role reader) {
		var answer = this.pages.get().uri(URI.create(address)).with(this.staff.as(reader)).exchange();
		assertThat(answer).as(address).hasStatusOk();
		try {
			return answer.getResponse().getContentAsString();
		}
		catch (IOException ex) {
			throw new AssertionError(ex);
		}
	}

	private static Map.Entry<List<String>, List<CSVRecord>> parse(String file) {
		try (var parsed = CSVFormat.RFC4180.builder()
			.setHeader()
			.setSkipHeaderRecord(true)
			.get()
			.parse(new StringReader(file))) {
			return Map.entry(parsed.getHeaderNames(), parsed.getRecords());
		}
		catch (IOException ex) {
			throw new AssertionError(ex);
		}
	}

}
