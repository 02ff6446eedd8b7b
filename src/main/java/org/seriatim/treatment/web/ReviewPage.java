package org.seriatim.treatment.web;

import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * What a session adds up to, in words and written figures.
 *
 * @param preparations one line each
 * @param lidocaine what was given against the reference limit
 * @param lidocaineNotes what the limit rests on, or why there is none
 * @param cautions what has to be seen
 * @param dataQuality what does not fit together
 * @param vessels the caution about regions with vessels, which asks for a confirmation;
 * {@code null} where no such region was treated
 */
record ReviewPage(List<Balance> preparations, String lidocaine, List<String> lidocaineNotes, List<String> cautions,
		List<String> dataQuality, @Nullable String vessels) {

	/**
	 * The balance of one preparation.
	 *
	 * @param kind of the status: same where it adds up, caution where it does not,
	 * unknown where it cannot be checked
	 * @param mixture what a millilitre holds and what was given
	 */
	record Balance(String preparation, String kind, String verdict, String figures, String mixture) {
	}

}
