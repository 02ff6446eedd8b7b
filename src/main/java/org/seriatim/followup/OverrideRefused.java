package org.seriatim.followup;

/** An advice cannot be overridden like this. */
public class OverrideRefused extends RuntimeException {

	/** Why. */
	public enum Why {

		/** Only the closing of the finding lifts a hold. */
		ON_HOLD,
		/** The window begins before the day after the session. */
		BEFORE_SESSION,
		/** The last day is before the first. */
		LAST_BEFORE_FIRST,
		/** No reason is given. */
		NO_REASON

	}

	private final Why why;

	public OverrideRefused(Why why) {
		super("override refused: " + why);
		this.why = why;
	}

	public Why why() {
		return this.why;
	}

}
