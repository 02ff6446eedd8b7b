package org.seriatim.assessment.domain;

import java.util.Collection;
import java.util.Locale;
import java.util.stream.Collectors;

import org.seriatim.assessment.Region;

/**
 * Proposes labels for tracked scars: a short word for the region, its side, and a number.
 * A clinic may label otherwise.
 */
public final class ScarLabels {

	private ScarLabels() {
	}

	/**
	 * The next free label of a region: its number follows the largest one in use, so that
	 * a label whose scar was relabelled does not come back for another scar.
	 * @param taken the labels of all of the patient's scars
	 */
	public static String next(Region region, Collection<String> taken) {
		var prefix = prefix(region);
		var upper = taken.stream().map((label) -> label.toUpperCase(Locale.ROOT)).collect(Collectors.toSet());
		int largest = upper.stream()
			.filter((label) -> label.matches(prefix + "\\d{1,6}"))
			.mapToInt((label) -> Integer.parseInt(label.substring(prefix.length())))
			.max()
			.orElse(0);
		return prefix + (largest + 1);
	}

	private static String prefix(Region region) {
		return switch (region) {
			case FOREHEAD -> "F";
			case GLABELLA -> "G";
			case TEMPLE_LEFT -> "TL";
			case TEMPLE_RIGHT -> "TR";
			case PERIORBITAL_LEFT -> "EL";
			case PERIORBITAL_RIGHT -> "ER";
			case NOSE -> "N";
			case CHEEK_MEDIAL_LEFT -> "CML";
			case CHEEK_MEDIAL_RIGHT -> "CMR";
			case CHEEK_LATERAL_LEFT -> "CLL";
			case CHEEK_LATERAL_RIGHT -> "CLR";
			case NASOLABIAL_LEFT -> "FL";
			case NASOLABIAL_RIGHT -> "FR";
			case PERIORAL -> "M";
			case CHIN -> "C";
			case JAWLINE_LEFT -> "JL";
			case JAWLINE_RIGHT -> "JR";
			case NECK -> "NK";
		};
	}

}
