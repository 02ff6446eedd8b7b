package org.seriatim.statistics;

/**
 * One coefficient of a regression.
 *
 * @param name of the covariate, or {@value #INTERCEPT}
 * @param estimate per unit of the covariate
 * @param standardError of the estimate
 */
public record Coefficient(String name, double estimate, double standardError) {

	public static final String INTERCEPT = "(Intercept)";

}
