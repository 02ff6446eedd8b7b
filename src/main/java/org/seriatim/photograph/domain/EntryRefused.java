package org.seriatim.photograph.domain;

import java.util.List;

/** A photograph or a consent breaks a rule of the record. */
public class EntryRefused extends RuntimeException {

	private final String field;

	private final Rule rule;

	private final List<Object> evidence;

	EntryRefused(String field, Rule rule, Object... evidence) {
		super("refused: " + rule);
		this.field = field;
		this.rule = rule;
		this.evidence = List.of(evidence);
	}

	/** The detail that breaks it. */
	public String field() {
		return this.field;
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

		/** The patient does not allow photographs for this purpose. */
		NO_CONSENT,
		/** There is a consent to this purpose already. */
		CONSENT_IN_FORCE,
		/** The consent was withdrawn already. */
		WITHDRAWN_ALREADY,
		/** The day is still to come. */
		IN_THE_FUTURE,
		/** The withdrawal is before the consent. */
		BEFORE_IT_WAS_GIVEN,
		/** The scar is another patient's. */
		SCAR_OF_ANOTHER_PATIENT,
		/** The scar lies in another region. */
		SCAR_OF_ANOTHER_REGION,
		/** A close view shows a region or a scar. */
		CLOSE_VIEW_OF_NOTHING,
		/** The turn of the head is a standard view's own. */
		TURN_OF_A_STANDARD_VIEW,
		/** What is not in order says why. */
		QUALITY_WITHOUT_REASON,
		/** The two points are too near to each other. */
		LANDMARKS_TOO_NEAR,
		/** The same file is shown already. */
		SHOWN_ALREADY

	}

}
