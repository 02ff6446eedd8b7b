package org.seriatim.screening;

import java.util.List;

/** What was to be settled before a session breaks a rule of the record. */
public class ScreeningRefused extends RuntimeException {

	private final Rule rule;

	private final transient List<Object> evidence;

	public ScreeningRefused(Rule rule, Object... evidence) {
		super("refused: " + rule);
		this.rule = rule;
		this.evidence = List.of(evidence);
	}

	public Rule rule() {
		return this.rule;
	}

	/** What the rule compares with. */
	public List<Object> evidence() {
		return this.evidence;
	}

	/** What every entry must keep beyond the shape of its values. */
	public enum Rule {

		/** The item is not asked any more. */
		NOT_ASKED,
		/** An answer of today is changed and nobody says why. */
		CHANGED_WITHOUT_REASON,
		/** The last dose is still to come. */
		DOSE_IN_THE_FUTURE,
		/** Isotretinoin was taken, and neither the last dose nor a note says when. */
		DOSE_NOT_SAID,
		/** A stop item is decided without a reason. */
		DECIDED_WITHOUT_REASON,
		/** The verdict does not go with the level of the item. */
		VERDICT_OF_ANOTHER_LEVEL,
		/** There is nothing to decide about the item. */
		NOTHING_TO_DECIDE,
		/** The day of the weight is still to come. */
		WEIGHED_IN_THE_FUTURE,
		/** The weight of a day is changed and nobody says why. */
		WEIGHT_WITHOUT_REASON,
		/** The consent is of a day that is still to come. */
		CONSENT_IN_THE_FUTURE,
		/** There is a consent of that day. */
		CONSENT_THAT_DAY,
		/** The withdrawal is of a day that is still to come. */
		WITHDRAWAL_IN_THE_FUTURE,
		/** The withdrawal is before the consent. */
		WITHDRAWN_BEFORE_GIVEN,
		/** It was withdrawn already. */
		WITHDRAWN_ALREADY,
		/** The cream is on. */
		NUMBING_IS_ON,
		/** The cream was stopped already. */
		NUMBING_IS_STOPPED,
		/** The start is still to come. */
		START_IN_THE_FUTURE,
		/** The start is of another day than today. */
		START_NOT_TODAY,
		/** The stop is still to come. */
		STOP_IN_THE_FUTURE,
		/** The stop is before the start. */
		STOP_BEFORE_START

	}

}
