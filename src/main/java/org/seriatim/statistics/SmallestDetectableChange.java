package org.seriatim.statistics;

import java.util.List;

/**
 * Smallest change between two measurements of one scar that exceeds measurement error, on
 * the scale of natural logarithms (so it is a ratio on the scale of the measurement).
 * <p>
 * With d the difference of the logarithms in a pair of ratings of one scar on one day, \(
 * SEM = \sqrt{\overline{d^2}/2} \) and \( SDC = 1.96 \sqrt{2}\, SEM \). The factor is
 * 1.96 as printed in the source, not the exact normal quantile.
 * <ul>
 * <li>Fewer pairs or patients than needed: {@link Detectability.TooFew}.</li>
 * <li>All pairs equal: 0, and any change exceeds it.</li>
 * </ul>
 * <p>
 * Source: de Vet, Terwee, Knol, Bouter 2006, Journal of Clinical Epidemiology 59,
 * 1033-1039.
 */
public final class SmallestDetectableChange {

	static final double FACTOR = 1.96 * Math.sqrt(2);

	private SmallestDetectableChange() {
	}

	/**
	 * @param pairs the order of ratings within a pair and of pairs does not matter
	 * @param pairsNeeded least number of pairs, at least 1
	 * @param patientsNeeded least number of patients, at least 1
	 */
	public static Detectability of(List<RatingPair> pairs, int pairsNeeded, int patientsNeeded) {
		if (pairsNeeded < 1 || patientsNeeded < 1) {
			throw new IllegalArgumentException("pairsNeeded and patientsNeeded must be at least 1, but are "
					+ pairsNeeded + " and " + patientsNeeded);
		}
		int patients = (int) pairs.stream().map(RatingPair::patient).distinct().count();
		if (pairs.size() < pairsNeeded || patients < patientsNeeded) {
			return new Detectability.TooFew(pairs.size(), patients, pairsNeeded, patientsNeeded);
		}
		double squares = pairs.stream()
			.mapToDouble((pair) -> Math.log(pair.first()) - Math.log(pair.second()))
			.map((difference) -> difference * difference)
			// sorted, so that the sum does not depend on the order of the pairs
			.sorted()
			.sum();
		double standardError = Math.sqrt(squares / pairs.size() / 2);
		return new Detectability.Known(standardError, FACTOR * standardError, pairs.size(), patients);
	}

}
