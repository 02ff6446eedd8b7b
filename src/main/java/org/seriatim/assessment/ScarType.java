package org.seriatim.assessment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** Type of a tracked scar (Jacob, Dover, Kaminer 2001 for the three atrophic types). */
public enum ScarType {

	ICE_PICK, BOXCAR, ROLLING, LINEAR, FOLD, HYPERTROPHIC, KELOID, MACULAR, UNCLASSIFIED;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** Whether the depth of such a scar enters statistics of improvement. */
	public boolean hasDepthStatistics() {
		return switch (this) {
			case ICE_PICK, BOXCAR, ROLLING, LINEAR, FOLD -> true;
			case HYPERTROPHIC, KELOID, MACULAR, UNCLASSIFIED -> false;
		};
	}

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
