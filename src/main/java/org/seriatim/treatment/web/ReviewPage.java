package org.seriatim.treatment.web;

import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * What a session adds up to, in words and written figures.
 *
 * @param preparations one line each
 * @param areas one line for each region that was treated
 * @param total of all of them against what was prepared
 * @param lidocaine what was given against the reference limit
 * @param lidocaineNotes what the limit rests on, or why there is none
 * @param topical the cream, and both anaesthetics together
 * @param cautions what has to be seen
 * @param dataQuality what does not fit together
 * @param unusual what lies outside the clinic's usual ranges
 * @param vessels the caution about regions with vessels, which asks for a confirmation;
 * {@code null} where no such region was treated
 */
record ReviewPage(List<Balance> preparations, List<AreaLine> areas, String total, List<String> topical,
		String lidocaine, List<String> lidocaineNotes, List<String> cautions, List<String> dataQuality,
		List<String> unusual, @Nullable String vessels) {

	/**
	 * The balance of one preparation.
	 *
	 * @param kind of the status: same where it adds up, caution where it does not,
	 * unknown where it cannot be checked
	 * @param mixture what a millilitre holds and what was given
	 * @param left what is in the syringes and in the vial, and how long it stood
	 */
	record Balance(String preparation, String kind, String verdict, String figures, String mixture, String left) {
	}

	/**
	 * What was placed in one region.
	 *
	 * @param region its word
	 * @param text what it is called
	 * @param entries number of injections
	 * @param planned what area and spacing gave
	 * @param summary the same in one sentence
	 */
	record AreaLine(String region, String text, String entries, String points, String volume, String planned,
			String summary) {
	}

}
