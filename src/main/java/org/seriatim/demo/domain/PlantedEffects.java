package org.seriatim.demo.domain;

/**
 * What is true in an invented clinic and in no real one, for its pages to find.
 *
 * @param bruises share of sessions that leave a bruise under all other practitioners
 * @param bruisesOfOne factor on the rate of bruises under one practitioner,
 * {@link InventedClinic#BRUISING}
 * @param lumpsOfOneLot factor on the number of lumps raised from one lot,
 * {@link InventedClinic#LUMPY_LOT}
 * @param lumps factor on the number of lumps everywhere
 * @param superficialLasts factor on the duration of lumps in the superficial dermis,
 * against the mid dermis
 * @param deepLasts factor on the duration of lumps in the deep dermis, against the mid
 * dermis
 * @param combinedLasts factor on the duration of lumps where radiofrequency microneedling
 * follows
 * @param feltAtOnce share of the lumps that are felt at the end of their session; one
 * that is not enters the records only if it is still there when somebody asks
 * @param everyCourse whether patients differ in their courses ({@link Story}); otherwise
 * all have the usual one
 */
record PlantedEffects(double bruises, double bruisesOfOne, double lumpsOfOneLot, double lumps, double superficialLasts,
		double deepLasts, double combinedLasts, double feltAtOnce, boolean everyCourse) {

	/** Those of the demonstration. */
	static final PlantedEffects USUAL = new PlantedEffects(0.11, 2.2, 3, 1, 3, 0.7, 0.65, 0.5, true);

	PlantedEffects {
		positive("bruises", bruises, 1);
		positive("bruisesOfOne", bruisesOfOne, 1 / bruises);
		positive("lumpsOfOneLot", lumpsOfOneLot, 6);
		positive("lumps", lumps, 1);
		positive("superficialLasts", superficialLasts, 20);
		positive("deepLasts", deepLasts, 20);
		positive("combinedLasts", combinedLasts, 20);
		if (!(feltAtOnce >= 0 && feltAtOnce <= 1)) {
			throw new IllegalArgumentException("feltAtOnce must be from 0 to 1, but was " + feltAtOnce);
		}
	}

	/** Up to the value at which a probability would pass 1 or a lump outlast a series. */
	private static void positive(String name, double factor, double most) {
		if (!(factor > 0 && factor <= most)) {
			throw new IllegalArgumentException(name + " must be above 0 and at most " + most + ", but was " + factor);
		}
	}

}
