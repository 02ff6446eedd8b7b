package org.seriatim.statistics;

import java.util.ArrayList;
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

	static double[] doubles(JsonNode node) {
		return StreamSupport.stream(node.spliterator(), false).mapToDouble(ReferenceValues::number).toArray();
	}

	static int[] ints(JsonNode node) {
		return StreamSupport.stream(node.spliterator(), false).mapToInt(JsonNode::intValue).toArray();
	}

	static boolean[] flags(JsonNode node) {
		boolean[] flags = new boolean[node.size()];
		for (int i = 0; i < flags.length; i++) {
			flags[i] = node.get(i).intValue() != 0;
		}
		return flags;
	}

	static List<String> words(JsonNode node) {
		return StreamSupport.stream(node.spliterator(), false).map(JsonNode::asString).toList();
	}

	static double confidence(JsonNode input) {
		return input.has("confidence") ? input.get("confidence").doubleValue() : 0.95;
	}

	/**
	 * A number; null is infinity, as in the right end of an interval.
	 */
	static double number(JsonNode node) {
		return node.isNull() ? Double.POSITIVE_INFINITY : node.doubleValue();
	}

	static List<DurationInterval> intervals(JsonNode input) {
		JsonNode left = input.get("left");
		JsonNode right = input.get("right");
		JsonNode count = input.get("count");
		if (left.size() != right.size() || (count != null && count.size() != left.size())) {
			throw new IllegalArgumentException("left, right and count must be of one length");
		}
		List<DurationInterval> intervals = new ArrayList<>();
		for (int i = 0; i < left.size(); i++) {
			intervals.add(new DurationInterval(left.get(i).isNull() ? Double.NaN : left.get(i).doubleValue(),
					number(right.get(i)), (count == null) ? 1 : count.get(i).intValue()));
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
