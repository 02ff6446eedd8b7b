package org.seriatim.treatment;

import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.SkinThickness;

/**
 * The clinic's own numbers for intervals, contacts and cautions. A version is never
 * edited; a clinic publishes the next one.
 *
 * @param number 1, 2, …
 * @param publishedOn day of publication in the clinic's time zone
 * @param baseDays usual time to the next session
 * @param windowDays length of the window after its first day
 * @param extendedDays time to the next session after a lump that lasted
 * @param persistenceThresholdDays a lump present on a later day than this one lasted
 * @param settlingMarginDays time between the disappearance of a lump and the next session
 * @param clearingProbability probability, strictly between 0 and 1, with which a lump
 * that is still there must have gone
 * @param curveLumps number of lumps that the clinic's curve must rest on to be used
 * @param repeatabilityPairs pairs of ratings that repeatability needs
 * @param repeatabilityPatients patients that these pairs must come from
 * @param plateauSessions number of assessed sessions from which a plateau is judged
 * @param plateauScars scars that each step between stages must rest on
 * @param skinShift days added to the intervals by thickness class
 * @param contactDays days after a session on which the patient is contacted, rising
 * @param contactEveryDays repeat of contacts after these days while the answer is open
 */
public record ProtocolVersion(int number, LocalDate publishedOn, int baseDays, int windowDays, int extendedDays,
		int persistenceThresholdDays, int settlingMarginDays, double clearingProbability, int curveLumps,
		int repeatabilityPairs, int repeatabilityPatients, int plateauSessions, int plateauScars, SkinShift skinShift,
		List<Integer> contactDays, int contactEveryDays) {

	/** Latest day of an interval that a protocol can ask for. */
	private static final int LONGEST_DAYS = 365;

	public ProtocolVersion {
		require("number", number, 1, Integer.MAX_VALUE);
		require("baseDays", baseDays, 1, LONGEST_DAYS);
		require("windowDays", windowDays, 0, LONGEST_DAYS);
		require("extendedDays", extendedDays, 1, LONGEST_DAYS);
		require("persistenceThresholdDays", persistenceThresholdDays, 1, LONGEST_DAYS);
		require("settlingMarginDays", settlingMarginDays, 0, LONGEST_DAYS);
		if (!(clearingProbability > 0 && clearingProbability < 1)) {
			throw new IllegalArgumentException(
					"clearingProbability must be strictly between 0 and 1, but is " + clearingProbability);
		}
		require("curveLumps", curveLumps, 1, Integer.MAX_VALUE);
		require("repeatabilityPairs", repeatabilityPairs, 2, Integer.MAX_VALUE);
		require("repeatabilityPatients", repeatabilityPatients, 2, Integer.MAX_VALUE);
		require("plateauSessions", plateauSessions, 2, Integer.MAX_VALUE);
		require("plateauScars", plateauScars, 1, Integer.MAX_VALUE);
		if (baseDays + skinShift.least() < 1) {
			throw new IllegalArgumentException("skinShift must leave at least a day of baseDays, but is " + skinShift);
		}
		contactDays = List.copyOf(contactDays);
		if (contactDays.isEmpty()) {
			throw new IllegalArgumentException("contactDays must not be empty");
		}
		for (int i = 0; i < contactDays.size(); i++) {
			require("contactDays", contactDays.get(i), (i > 0) ? contactDays.get(i - 1) + 1 : 1, LONGEST_DAYS);
		}
		require("contactEveryDays", contactEveryDays, 1, 90);
	}

	private static void require(String name, int value, int least, int most) {
		if (value < least || value > most) {
			throw new IllegalArgumentException(
					name + " must be between " + least + " and " + most + ", but is " + value);
		}
	}

	/** Days added for this thickness class; none for a class that is not recorded. */
	public int shiftFor(@Nullable SkinThickness thickness) {
		return (thickness != null) ? this.skinShift.of(thickness) : 0;
	}

	/**
	 * Days added to the intervals by thickness class of the skin; 0 means not set.
	 */
	public record SkinShift(int thin, int medium, int thick) {

		/** The shift that a clinic starts with: none is set. */
		public static final SkinShift NOT_SET = new SkinShift(0, 0, 0);

		public SkinShift {
			require("thin", thin, -60, 60);
			require("medium", medium, -60, 60);
			require("thick", thick, -60, 60);
		}

		int of(SkinThickness thickness) {
			return switch (thickness) {
				case THIN -> this.thin;
				case MEDIUM -> this.medium;
				case THICK -> this.thick;
			};
		}

		private int least() {
			return Math.min(this.thin, Math.min(this.medium, this.thick));
		}

	}

}
