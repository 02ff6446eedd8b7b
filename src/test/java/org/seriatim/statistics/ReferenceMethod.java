package org.seriatim.statistics;

import tools.jackson.databind.JsonNode;

/**
 * Computes one method of the reference cases: from the input of a case the values that
 * its expected part names.
 */
@FunctionalInterface
interface ReferenceMethod {

	/**
	 * @param input what the case gives
	 * @param asked what the case expects, for methods that are asked for values at points
	 * which stand only there
	 * @return a tree of maps, lists, arrays, numbers and booleans; an absent value is an
	 * empty optional, null or infinity. {@link IllegalArgumentException} stands for input
	 * that must be rejected, {@link ReferenceValues#NOT_ESTIMABLE} for a result that does
	 * not exist.
	 */
	Object compute(JsonNode input, JsonNode asked);

}
