package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.StreamSupport;

import tools.jackson.databind.JsonNode;

/**
 * Reading of inputs and naming of results, shared by the reference methods.
 */
final class ReferenceValues {

	static final Map<String, Object> NOT_ESTIMABLE = Map.of("status", "notEstimable");

	private static final Map<String, Double> NOT_FINITE = Map.of("Inf", Double.POSITIVE_INFINITY, "+Inf",
			Double.POSITIVE_INFINITY, "Infinity", Double.POSITIVE_INFINITY, "-Inf", Double.NEGATIVE_INFINITY,
			"-Infinity", Double.NEGATIVE_INFINITY, "NaN", Double.NaN, "NA", Double.NaN);

	private ReferenceValues() {
	}

	static <T> Object describe(Estimate<T> estimate, Function<T, Object> known) {
		if (estimate instanceof Estimate.Known<T> result) {
			return known.apply(result.value());
		}
		if (estimate instanceof Estimate.NotEstimable<T>) {
			return NOT_ESTIMABLE;
		}
		return Map.of("status", "notConverged");
	}

	/**
	 * A part that must be there; a case without it is broken, which is no refusal of the
	 * kernel.
	 */
	static JsonNode part(JsonNode node, String name) {
		JsonNode part = node.get(name);
		if (part == null) {
			throw new IllegalStateException("there is no " + name);
		}
		return part;
	}

	static double number(JsonNode input, String name) {
		return number(part(input, name));
	}

	static double number(JsonNode input, String name, double otherwise) {
		return input.has(name) ? number(input.get(name)) : otherwise;
	}

	static boolean isNumber(JsonNode node) {
		return node.isNumber() || (node.isString() && NOT_FINITE.containsKey(node.asString()));
	}

	/**
	 * A number, also one that JSON has no number for; null is not a number.
	 */
	static double number(JsonNode node) {
		if (node.isNull()) {
			return Double.NaN;
		}
		return node.isString() ? NOT_FINITE.getOrDefault(node.asString(), Double.NaN) : node.doubleValue();
	}

	/**
	 * A number; null is infinity, as in the right end of an interval.
	 */
	static double orInfinity(JsonNode node) {
		return node.isNull() ? Double.POSITIVE_INFINITY : number(node);
	}

	/**
	 * A count, which anything but a whole number is refused as.
	 */
	static int whole(JsonNode node) {
		double value = number(node);
		if (value != Math.rint(value) || Math.abs(value) > Integer.MAX_VALUE) {
			throw new IllegalArgumentException("counts must be whole numbers, but one is " + node);
		}
		return (int) value;
	}

	static int whole(JsonNode input, String name) {
		return whole(part(input, name));
	}

	/**
	 * The elements of a list, of which one may be given without its list.
	 */
	static List<JsonNode> elements(JsonNode input, String name) {
		JsonNode node = part(input, name);
		return node.isArray() ? StreamSupport.stream(node.spliterator(), false).toList() : List.of(node);
	}

	static double[] doubles(JsonNode input, String name) {
		return elements(input, name).stream().mapToDouble(ReferenceValues::number).toArray();
	}

	static int[] wholes(JsonNode input, String name) {
		return elements(input, name).stream().mapToInt(ReferenceValues::whole).toArray();
	}

	static double[][] rows(JsonNode input, String name) {
		return elements(input, name).stream()
			.map((row) -> row.isArray()
					? StreamSupport.stream(row.spliterator(), false).mapToDouble(ReferenceValues::number).toArray()
					: new double[] { number(row) })
			.toArray(double[][]::new);
	}

	/**
	 * 1 and 0, or true and false.
	 */
	static boolean[] flags(JsonNode input, String name) {
		List<JsonNode> nodes = elements(input, name);
		boolean[] flags = new boolean[nodes.size()];
		for (int i = 0; i < flags.length; i++) {
			JsonNode node = nodes.get(i);
			if (!node.isBoolean() && number(node) != 0 && number(node) != 1) {
				throw new IllegalArgumentException(name + " must be 0 or 1, but one is " + node);
			}
			flags[i] = node.isBoolean() ? node.booleanValue() : number(node) == 1;
		}
		return flags;
	}

	/**
	 * Labels of groups, patients or scars.
	 * @param rows how many there must be
	 */
	static List<String> words(JsonNode input, String name, int rows) {
		List<JsonNode> nodes = elements(input, name);
		requireRows(name, nodes.size(), rows);
		if (nodes.stream().anyMatch(JsonNode::isNull)) {
			throw new IllegalArgumentException(name + " must not be null, but one is");
		}
		return nodes.stream().map(JsonNode::asString).toList();
	}

	static void requireRows(String name, int size, int rows) {
		if (size != rows) {
			throw new IllegalArgumentException(name + " must be as many as the rest, " + rows + ", but are " + size);
		}
	}

	/**
	 * One of several named things; another name is a case that cannot be understood.
	 */
	static <E extends Enum<E>> E choice(Class<E> names, JsonNode node) {
		return Arrays.stream(names.getEnumConstants())
			.filter((constant) -> constant.name().equalsIgnoreCase(node.asString()))
			.findFirst()
			.orElseThrow(() -> new IllegalStateException("nothing is named " + node));
	}

	static double confidence(JsonNode input) {
		return number(input, "confidence", 0.95);
	}

	static List<DurationInterval> intervals(JsonNode input) {
		double[] left = doubles(input, "left");
		double[] right = elements(input, "right").stream().mapToDouble(ReferenceValues::orInfinity).toArray();
		int[] count = new int[left.length];
		Arrays.fill(count, 1);
		if (input.has("count") && !input.get("count").isNull()) {
			count = wholes(input, "count");
		}
		requireRows("right", right.length, left.length);
		requireRows("count", count.length, left.length);
		List<DurationInterval> intervals = new ArrayList<>();
		for (int i = 0; i < left.length; i++) {
			intervals.add(new DurationInterval(left[i], right[i], count[i]));
		}
		return intervals;
	}

	static Map<String, Object> map(Object... namesAndValues) {
		Map<String, Object> map = new LinkedHashMap<>();
		for (int i = 0; i < namesAndValues.length; i += 2) {
			map.put((String) namesAndValues[i], namesAndValues[i + 1]);
		}
		return map;
	}

}
