package org.seriatim.statistics;

import java.io.IOException;
import java.io.PrintStream;
import java.lang.reflect.Array;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;

import tools.jackson.core.JacksonException;
import tools.jackson.core.json.JsonReadFeature;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * Holds the kernel against a folder of case files, whatever cases they contain.
 * <p>
 * A file is {@code {"cases": [...]}}; a case has {@code id}, {@code method},
 * {@code input}, {@code expected} and {@code tolerance} ({@code abs}, {@code rel}, and
 * entries of the same form for single fields, valid for everything inside them; 1e-9 for
 * both where there is none). A value passes when it differs by at most {@code abs + rel *
 * |expected|}. Fields that are not expected are not compared. An expected null stands for
 * whatever has no number: an empty value, infinity, a list of such, or any field of a
 * result that does not exist. Three kinds of field are not values to match:
 * <ul>
 * <li>{@code <name>AtMost}: the computed {@code <name>} must not exceed it;</li>
 * <li>{@code <name>Bracket}: the computed {@code <name>} must lie within the two;</li>
 * <li>an object of {@code left}, {@code right}, {@code mass}: intervals are matched by
 * their ends, and one that is missing on either side has mass 0.</li>
 * </ul>
 * A file that cannot be read, and a case that lacks a part or names a method that does
 * not exist, are failures with a line of their own; the others run on.
 */
final class ReferenceCases {

	private static final JsonMapper MAPPER = JsonMapper.builder()
		.enable(JsonReadFeature.ALLOW_NON_NUMERIC_NUMBERS)
		.build();

	private final Map<String, ReferenceMethod> methods;

	private final List<String> failures = new ArrayList<>();

	private final Map<String, Integer> passedByMethod = new LinkedHashMap<>();

	private int passed;

	ReferenceCases(Map<String, ReferenceMethod> methods) {
		this.methods = methods;
	}

	void run(Path folder) throws IOException {
		List<Path> files;
		try (Stream<Path> listing = Files.walk(folder)) {
			files = listing.filter((file) -> file.toString().endsWith(".json")).sorted().toList();
		}
		List<Located> cases = new ArrayList<>();
		for (Path file : files) {
			String name = folder.relativize(file).toString();
			try {
				JsonNode root = MAPPER.readTree(Files.readString(file));
				JsonNode list = root.isArray() ? root : root.get("cases");
				if (list != null) {
					list.forEach((item) -> cases.add(new Located(name, item)));
				}
			}
			catch (JacksonException | IOException ex) {
				this.failures.add("FAILED " + name + ": cannot be read, "
						+ String.valueOf(ex.getMessage()).lines().findFirst().orElse(""));
			}
		}
		for (Located located : cases) {
			run(located, cases);
		}
	}

	private record Located(String file, JsonNode item) {

		String id() {
			return this.item.has("id") ? this.item.get("id").asString() : "(without id)";
		}

	}

	private void run(Located located, List<Located> all) {
		List<String> differences = new ArrayList<>();
		String method = "";
		try {
			JsonNode item = located.item();
			method = ReferenceValues.part(item, "method").asString();
			JsonNode expected = ReferenceValues.part(item, "expected");
			JsonNode actual = compute(method, input(located, all, 0), expected);
			compare("", expected, actual, new Tolerances(item.get("tolerance")), differences);
			if (actual.has("status") && !expected.has("status")) {
				differences.add("status is " + actual.get("status"));
			}
		}
		catch (RuntimeException | StackOverflowError | OutOfMemoryError ex) {
			differences.add(String.valueOf(ex));
		}
		if (differences.isEmpty()) {
			this.passed++;
			this.passedByMethod.merge(method, 1, Integer::sum);
		}
		else {
			int shown = Math.min(5, differences.size());
			String more = (shown < differences.size()) ? " and " + (differences.size() - shown) + " more" : "";
			this.failures.add("FAILED " + located.file() + " " + located.id() + ": "
					+ String.join("; ", differences.subList(0, shown)) + more);
		}
	}

	/**
	 * An input may point at the case whose input it shares, in the same file or another,
	 * and add to it.
	 */
	private JsonNode input(Located located, List<Located> all, int depth) {
		JsonNode input = ReferenceValues.part(located.item(), "input");
		if (!input.has("sameInputAs")) {
			return input;
		}
		String shared = input.get("sameInputAs").asString();
		Located other = all.stream()
			.filter((one) -> one.id().equals(shared))
			.min(Comparator.comparing((one) -> !one.file().equals(located.file())))
			.orElseThrow(() -> new IllegalStateException("no case " + shared + " to take the input from"));
		if (depth > all.size()) {
			throw new IllegalStateException("cases take their inputs from each other in a circle");
		}
		Map<String, JsonNode> merged = new LinkedHashMap<>();
		input(other, all, depth + 1).properties().forEach((entry) -> merged.put(entry.getKey(), entry.getValue()));
		input.properties().forEach((entry) -> merged.put(entry.getKey(), entry.getValue()));
		return MAPPER.valueToTree(merged);
	}

	private JsonNode compute(String name, JsonNode input, JsonNode asked) {
		ReferenceMethod method = this.methods.get(name);
		if (method == null) {
			throw new IllegalStateException("no method named " + name);
		}
		Object result;
		try {
			result = method.compute(input, asked);
		}
		catch (IllegalArgumentException ex) {
			result = Map.of("status", "invalidInput");
		}
		return MAPPER.valueToTree(plain(result));
	}

	/**
	 * Empty and infinite values become null, arrays become lists.
	 */
	private static Object plain(Object value) {
		if (value == null) {
			return null;
		}
		if (value instanceof Optional<?> optional) {
			return plain(optional.orElse(null));
		}
		if (value instanceof OptionalDouble optional) {
			return optional.isPresent() ? plain(optional.getAsDouble()) : null;
		}
		if (value instanceof OptionalInt optional) {
			return optional.isPresent() ? optional.getAsInt() : null;
		}
		if (value instanceof Double number) {
			return Double.isInfinite(number) ? null : number;
		}
		if (value instanceof Map<?, ?> map) {
			Map<String, Object> plain = new LinkedHashMap<>();
			map.forEach((key, element) -> plain.put((String) key, plain(element)));
			return plain;
		}
		if (value instanceof Collection<?> collection) {
			return collection.stream().map(ReferenceCases::plain).toList();
		}
		if (value.getClass().isArray()) {
			List<Object> plain = new ArrayList<>();
			for (int i = 0; i < Array.getLength(value); i++) {
				plain.add(plain(Array.get(value, i)));
			}
			return plain;
		}
		return value;
	}

	private void compare(String path, JsonNode expected, JsonNode actual, Tolerances tolerances,
			List<String> differences) {
		if (isNothing(expected) && actual != null && isNothing(actual)) {
			return;
		}
		if (actual == null) {
			differences.add(path + " was not computed");
		}
		else if (expected.isObject() && expected.has("left") && expected.has("right") && expected.has("mass")) {
			compareMasses(path, expected, actual, tolerances, differences);
		}
		else if (expected.isObject()) {
			boolean exists = !actual.has("status");
			for (Map.Entry<String, JsonNode> entry : expected.properties()) {
				String name = entry.getKey();
				if (!exists && isNothing(entry.getValue())) {
					continue;
				}
				String inner = path.isEmpty() ? name : path + "." + name;
				Tolerances innerTolerances = tolerances.within(name);
				if (name.endsWith("AtMost")) {
					compareBounds(inner, null, entry.getValue(), actual.get(without("AtMost", name)), innerTolerances,
							differences);
				}
				else if (name.endsWith("Bracket")) {
					compareBounds(inner, entry.getValue().get(0), entry.getValue().get(1),
							actual.get(without("Bracket", name)), innerTolerances, differences);
				}
				else {
					compare(inner, entry.getValue(), actual.get(name), innerTolerances, differences);
				}
			}
		}
		else if (expected.isArray()) {
			if (!actual.isArray() || actual.size() != expected.size()) {
				differences.add(path + " should have " + expected.size() + " values, has " + actual.size());
				return;
			}
			for (int i = 0; i < expected.size(); i++) {
				compare(path + "[" + i + "]", expected.get(i), actual.get(i), tolerances, differences);
			}
		}
		else if (expected.isNumber() && actual.isNumber()) {
			if (!tolerances.accept(expected.doubleValue(), actual.doubleValue())) {
				differences.add(path + " should be " + expected + ", is " + actual);
			}
		}
		else if (expected.isContainer() || actual.isContainer() || !expected.asString().equals(actual.asString())) {
			differences.add(path + " should be " + expected + ", is " + actual);
		}
	}

	/**
	 * Null, infinity, "not a number", or a list of nothing else.
	 */
	private static boolean isNothing(JsonNode node) {
		if (node.isArray()) {
			return !node.isEmpty()
					&& StreamSupport.stream(node.spliterator(), false).allMatch(ReferenceCases::isNothing);
		}
		return node.isNull() || (ReferenceValues.isNumber(node) && !Double.isFinite(ReferenceValues.number(node)));
	}

	private static String without(String ending, String name) {
		return name.substring(0, name.length() - ending.length());
	}

	private static void compareBounds(String path, JsonNode low, JsonNode high, JsonNode actual, Tolerances tolerances,
			List<String> differences) {
		if (actual != null && actual.isNull() && (high.isNull() && low != null)) {
			return;
		}
		if (actual == null || !actual.isNumber()) {
			differences.add(path + " was not computed");
			return;
		}
		double value = actual.doubleValue();
		double least = (low == null || low.isNull()) ? Double.NEGATIVE_INFINITY : low.doubleValue();
		double most = high.isNull() ? Double.POSITIVE_INFINITY : high.doubleValue();
		boolean within = value >= least && value <= most;
		// a bound of the kind "at most" has no slack of its own
		if (!within && (low == null || !(tolerances.accept(least, value) || tolerances.accept(most, value)))) {
			differences.add(path + " should be within " + ((low != null) ? low : "") + ".." + high + ", is " + value);
		}
	}

	private static void compareMasses(String path, JsonNode expected, JsonNode actual, Tolerances tolerances,
			List<String> differences) {
		Map<String, Double> masses = byEnds(expected);
		Map<String, Double> computed = byEnds(actual);
		Stream.concat(masses.keySet().stream(), computed.keySet().stream()).distinct().forEach((ends) -> {
			double should = masses.getOrDefault(ends, 0.0);
			double is = computed.getOrDefault(ends, 0.0);
			if (!tolerances.accept(should, is)) {
				differences.add(path + " mass in " + ends + " should be " + should + ", is " + is);
			}
		});
	}

	private static Map<String, Double> byEnds(JsonNode masses) {
		Map<String, Double> byEnds = new LinkedHashMap<>();
		for (int i = 0; i < masses.get("mass").size(); i++) {
			double left = ReferenceValues.orInfinity(masses.get("left").get(i));
			double right = ReferenceValues.orInfinity(masses.get("right").get(i));
			byEnds.put("(" + left + ", " + right + "]", masses.get("mass").get(i).doubleValue());
		}
		return byEnds;
	}

	/**
	 * Tolerances of a case, or of a field of it that has its own.
	 */
	private static final class Tolerances {

		private final JsonNode node;

		private final double abs;

		private final double rel;

		Tolerances(JsonNode node) {
			this((node == null) ? MAPPER.readTree("{\"abs\": 1e-9, \"rel\": 1e-9}") : node, 0, 0);
		}

		private Tolerances(JsonNode node, double abs, double rel) {
			this.node = node;
			this.abs = node.has("abs") ? node.get("abs").doubleValue() : abs;
			this.rel = node.has("rel") ? node.get("rel").doubleValue() : rel;
		}

		Tolerances within(String field) {
			return (this.node.has(field) && this.node.get(field).isObject())
					? new Tolerances(this.node.get(field), this.abs, this.rel) : this;
		}

		boolean accept(double expected, double actual) {
			return Math.abs(actual - expected) <= this.abs + this.rel * Math.abs(expected);
		}

	}

	/**
	 * Prints a line for each failed case and the counts.
	 */
	void report(PrintStream out) {
		this.failures.forEach(out::println);
		out.println(this.passed + " passed, " + this.failures.size() + " failed");
	}

	List<String> failures() {
		return List.copyOf(this.failures);
	}

	int passed() {
		return this.passed;
	}

	Map<String, Integer> passedByMethod() {
		return Map.copyOf(this.passedByMethod);
	}

}
