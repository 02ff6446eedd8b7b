package org.seriatim.finding.domain;

import java.util.List;

/** A finding, an observation or a contact breaks a rule of the record. */
public class EntryRefused extends RuntimeException {

	private final List<Fault> faults;

	EntryRefused(List<Fault> faults) {
		super("refused: " + faults.stream().map(Fault::rule).toList());
		this.faults = List.copyOf(faults);
	}

	EntryRefused(String field, Rule rule) {
		this(List.of(Fault.of(field, rule)));
	}

	public List<Fault> faults() {
		return this.faults;
	}

	/**
	 * One rule that is broken.
	 *
	 * @param field the detail that breaks it
	 * @param evidence what the rule compares with
	 */
	public record Fault(String field, Rule rule, List<Object> evidence) {

		static Fault of(String field, Rule rule, Object... evidence) {
			return new Fault(field, rule, List.of(evidence));
		}

	}

	/** What every entry must keep beyond the shape of its values. */
	public enum Rule {

		/** The session is another patient's. */
		SESSION_OF_ANOTHER_PATIENT,
		/** The scar is another patient's. */
		SCAR_OF_ANOTHER_PATIENT,
		/** The scar lies in another region. */
		SCAR_OF_ANOTHER_REGION,
		/** The day is still to come. */
		IN_THE_FUTURE,
		/** The day is before the session. */
		BEFORE_SESSION,
		/** The day is before the finding was first noted. */
		BEFORE_FIRST_NOTED,
		/** Grade 5 is death, which is always serious. */
		GRADE_FIVE_IS_SERIOUS,
		/** A granuloma is called so only once histology has confirmed it. */
		GRANULOMA_WITHOUT_HISTOLOGY,
		/**
		 * A possible emergency is closed with a reason, never turned into something else.
		 */
		RED_FLAG_TURNED_INTO_ANOTHER_KIND,
		/** What is absent has no size. */
		SIZE_OF_WHAT_IS_ABSENT,
		/** This reporter has answered on this day and channel. */
		ALREADY_OBSERVED,
		/** There is a contact of this day and channel. */
		ALREADY_CONTACTED,
		/** Nobody was reached, so nobody answered. */
		ANSWER_WITHOUT_REACHING,
		/** No lump at all, and one that is still there. */
		LUMP_IN_SPITE_OF_NONE

	}

}
