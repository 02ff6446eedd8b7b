package org.seriatim.outcome.domain;

/**
 * Whom the figures of a page are about, and how far each session was followed. A session
 * counts as assessed when a scar, the pores or the face were assessed after its day and
 * no later than the day of the patient's next session.
 *
 * @param patients with at least one of the sessions
 * @param series that the sessions belong to
 * @param sessions that the filter lets through
 * @param assessed of these
 * @param awaited not assessed, but the last of their patient and no older than
 * {@value #AWAITED_DAYS} days
 * @param lost not assessed, and no longer awaited
 */
public record OutcomeFlow(int patients, int series, int sessions, int assessed, int awaited, int lost) {

	/**
	 * Twice the 84 days after which the outcome visit is due (a proposal, no source).
	 */
	public static final int AWAITED_DAYS = 168;

}
