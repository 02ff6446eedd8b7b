package org.seriatim.followup;

import java.time.LocalDate;

/** What practitioners make of the advice. The decision carries who and when. */
public interface AdviceDecisions {

	/**
	 * Takes the advice as it is.
	 * @throws AdviceReplaced if it is no longer the current one
	 */
	void accept(AdviceId advice);

	/**
	 * Sets another window, with a reason.
	 * @throws AdviceReplaced if it is no longer the current one
	 * @throws OverrideRefused if treatment is on hold, the window is none or the reason
	 * is missing
	 */
	void override(AdviceId advice, String reason, LocalDate first, LocalDate last);

}
