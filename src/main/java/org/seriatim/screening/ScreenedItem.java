package org.seriatim.screening;

import org.jspecify.annotations.Nullable;

/**
 * Where an item stands on a day.
 *
 * @param answer the latest answer up to that day, also one that is too old; none for what
 * the record itself answers
 * @param decision the one of that day, also one that no longer fits the answer
 */
public record ScreenedItem(ListedItem item, State state, @Nullable GivenAnswer answer,
		@Nullable ScreeningDecision decision) {

	/** What is known. */
	public enum State {

		NO, YES, UNKNOWN,
		/** Never asked. */
		UNANSWERED,
		/** Asked too long ago, before the last session, or in other words. */
		STALE

	}

	/** What is still to be done about an item that is not cleared. */
	public enum Open {

		/** Nobody asked, or too long ago. */
		TO_ASK,
		/** An assistant's answer waits for a licensed clinician. */
		TO_TAKE_OVER,
		/** A decision with a reason, or an acknowledgement, is wanting. */
		TO_DECIDE,
		/** A licensed clinician decided against a session today. */
		NOT_TODAY

	}

	/** What stands against a session; {@code null} where nothing does. */
	public @Nullable Open open() {
		if (isCleared()) {
			return null;
		}
		if (isToBeAsked()) {
			return Open.TO_ASK;
		}
		if (isDraft() && about() == null) {
			return Open.TO_TAKE_OVER;
		}
		return (isDecided() && !isDraft() && this.decision != null && this.decision.verdict() == Verdict.NOT_TODAY)
				? Open.NOT_TODAY : Open.TO_DECIDE;
	}

	/** Whether somebody has to ask. */
	public boolean isToBeAsked() {
		return this.state == State.UNANSWERED || this.state == State.STALE;
	}

	/** Whether the answer that counts waits for a licensed clinician to take it over. */
	public boolean isDraft() {
		return !isToBeAsked() && this.answer != null && this.answer.isDraft();
	}

	/** What there is to decide about; none where nothing is. */
	public @Nullable Answer about() {
		return switch (this.state) {
			case YES -> Answer.YES;
			case UNKNOWN -> Answer.UNKNOWN;
			default -> null;
		};
	}

	/**
	 * Whether the decision of the day was made on what is known now, and on what is asked
	 * now.
	 */
	public boolean isDecided() {
		return this.decision != null && this.decision.about() == about()
				&& this.item.isWordedLike(this.decision.item());
	}

	/** Whether nothing is left that stands against a session. */
	public boolean isCleared() {
		if (isDraft()) {
			return false;
		}
		return this.state == State.NO || isDecided() && this.decision != null && clears(this.decision.verdict());
	}

	/** An acknowledgement clears no stop item, also where it was a caution before. */
	private boolean clears(Verdict verdict) {
		return verdict == Verdict.MAY_TREAT || verdict == Verdict.ACKNOWLEDGED && !this.item.isStop();
	}

	/** Whether no session may be started because of it. */
	public boolean stops() {
		return this.item.isStop() && !isCleared();
	}

}
