package org.seriatim.statistics;

import java.io.IOException;
import java.io.PrintStream;
import java.lang.reflect.Array;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.Stream;

import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * Holds the kernel against a folder of case files, whatever cases they contain.
 * <p>
 * A file is {@code {"cases": [...]}}; a case has {@code id}, {@code method},
 * {@code input}, {@code expected} and {@code tolerance} ({@code abs}, {@code rel}, and
 * entries of the same form for single fields, valid for everything inside them). A value
 * passes when it differs by at most {@code abs + rel * |expected|}. Fields that are not
 * expected are not compared. Three kinds of field are not values to match:
 * <ul>
 * <li>{@code <name>AtMost}: the computed {@code <name>} must not exceed it;</li>
 * <li>{@code <name>Bracket}: the computed {@code <name>} must lie within the two;</li>
 * <li>an object of {@code left}, {@code right}, {@code mass}: intervals are matched by
 * their ends, and one that is missing on either side has mass 0.</li>
 * </ul>
 */
final class ReferenceCases {

	private final Map<String, ReferenceMethod> methods;

	private final List<String> failures = new ArrayList<>();

	private final Map<String, Integer> passedByMethod = new LinkedHashMap<>();

	private int passed;

	ReferenceCases(Map<String, ReferenceMethod> methods) {
		this.methods = methods;
	}

	void run(Path folder) throws IOException {
		List<Path> files;
		try (Stream<Path> listing = Files.list(folder)) {
			files = listing.filter((file) -> file.toString().endsWith(".json")).sorted().toList();
		}
		JsonMapper mapper = JsonMapper.builder().build();
		Map<String, JsonNode> inputs = new HashMap<>();
		List<Located> cases = new ArrayList<>();
		for (Path file : files) {
			JsonNode root = mapper.readTree(Files.readString(file));
			if (!root.has("cases")) {
				continue;
			}
			for (JsonNode item : root.get("cases")) {
				inputs.put(item.get("id").asString(), item.get("input"));
				cases.add(new Located(file.getFileName().toString(), item));
			}
		}
		for (Located located : cases) {
			run(located, inputs);
		}
	}

	private record Located(String file, JsonNode item) {
	}

	private void run(Located located, Map<String, JsonNode> inputs) {
		JsonNode item = located.item();
		String method = item.get("method").asString();
		List<String> differences = new ArrayList<>();
		try {
			JsonNode actual = compute(method, resolve(item.get("input"), inputs), item.get("expected"));
			compare("", item.get("expected"), actual, new Tolerances(item.get("tolerance")), differences);
		}
		catch (RuntimeException ex) {
			differences.add(ex.toString());
		}
		if (differences.isEmpty()) {
			this.passed++;
			this.passedByMethod.merge(method, 1, Integer::sum);
		}
		else {
			int shown = Math.min(5, differences.size());
			String more = (shown < differences.size()) ? " and " + (differences.size() - shown) + " more" : "";
			this.failures.add("FAILED " + located.file() + " " + item.get("id").asString() + ": "
					+ String.join("; ", differences.subList(0, shown)) + more);
		}
	}

	/**
	 * An input may point at the case whose input it shares, and add to it.
	 */
	private JsonNode resolve(JsonNode input, Map<String, JsonNode> inputs) {
		if (!input.has("sameInputAs")) {
			return input;
		}
		JsonNode shared = inputs.get(input.get("sameInputAs").asString());
		if (shared == null) {
			throw new IllegalStateException("no case " + input.get("sameInputAs") + " to take the input from");
		}
		Map<String, JsonNode> merged = new LinkedHashMap<>();
		resolve(shared, inputs).properties().forEach((entry) -> merged.put(entry.getKey(), entry.getValue()));
		input.properties().forEach((entry) -> merged.put(entry.getKey(), entry.getValue()));
		return JsonMapper.builder().build().valueToTree(merged);
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
		return JsonMapper.builder().build().valueToTree(plain(result));
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
		if (actual == null || actual.isMissingNode()) {
			differences.add(path + " was not computed");
		}
		else if (expected.isObject() && expected.has("left") && expected.has("right") && expected.has("mass")) {
			compareMasses(path, expected, actual, tolerances, differences);
		}
		else if (expected.isObject()) {
			for (Map.Entry<String, JsonNode> entry : expected.properties()) {
				String name = entry.getKey();
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
			if (expected.has("status") != actual.has("status") && !expected.has("status")) {
				differences.add("status is " + actual.get("status"));
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
		else if (!expected.equals(actual)) {
			differences.add(path + " should be " + expected + ", is " + actual);
		}
	}

	private static String without(String ending, String name) {
		return name.substring(0, name.length() - ending.length());
	}

	private static void compareBounds(String path, JsonNode low, JsonNode high, JsonNode actual, Tolerances tolerances,
			List<String> differences) {
		if (actual == null || !actual.isNumber()) {
			differences.add(path + " was not computed");
			return;
		}
		double value = actual.doubleValue();
		boolean belowHigh = value <= high.doubleValue() || tolerances.accept(high.doubleValue(), value);
		boolean aboveLow = low == null || value >= low.doubleValue() || tolerances.accept(low.doubleValue(), value);
		// a bound of the kind "at most" has no slack of its own
		if (!aboveLow || !((low == null) ? value <= high.doubleValue() : belowHigh)) {
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
			double left = ReferenceValues.number(masses.get("left").get(i));
			double right = ReferenceValues.number(masses.get("right").get(i));
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
			this(node, 0, 0);
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
