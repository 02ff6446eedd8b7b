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
		/** Grade 5 is death, which is then a criterion of seriousness. */
		GRADE_FIVE_WITHOUT_DEATH,
		/** Death is grade 5. */
		DEATH_OF_ANOTHER_GRADE,
		/** Serious by a criterion, and yet not serious. */
		CRITERION_OF_WHAT_IS_NOT_SERIOUS,
		/** Serious is what meets a criterion. */
		SERIOUS_WITHOUT_CRITERION,
		/** Fatal is what led to death. */
		FATAL_WITHOUT_DEATH,
		/** The second of two days before the first. */
		ONSET_IN_WRONG_ORDER,
		/** It cannot have begun after it was noted. */
		ONSET_AFTER_FIRST_NOTED,
		/** The region lies on the other side. */
		SIDE_OF_ANOTHER_REGION,
		/** Only a lump or a nodule is felt and seen like that. */
		OF_A_LUMP_ONLY,
		/** What has no kind needs words. */
		OTHER_WITHOUT_WORDS,
		/** Whoever assesses causality is a practitioner or lead. */
		ASSESSOR_UNKNOWN,
		/** What was done in the clinic was done by somebody of it. */
		DONE_BY_NOBODY,
		/** What was done at home or elsewhere has nobody of the clinic. */
		DONE_BY_ANOTHER,
		/** An action that has no class needs words. */
		ACTION_WITHOUT_WORDS,
		/** What is not reported was sent to nobody. */
		NOT_REPORTED_BUT_SENT,
		/** What was sent was sent to somebody. */
		SENT_TO_NOBODY,
		/** A reference belongs to what was sent. */
		REFERENCE_OF_NOTHING_SENT,
		/** Sent before it was considered. */
		SENT_BEFORE_IT_WAS_CONSIDERED,
		/** The day is before the finding can have begun. */
		BEFORE_ONSET,
		/** Nobody who works here. */
		NOBODY_OF_THE_CLINIC,
		/** Due before it was considered. */
		DUE_BEFORE_IT_WAS_CONSIDERED,
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
