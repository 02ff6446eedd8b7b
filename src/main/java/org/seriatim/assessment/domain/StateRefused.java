package org.seriatim.assessment.domain;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarId;

/** What is said to have become of a scar cannot be so. */
public class StateRefused extends RuntimeException {

	private final transient List<Fault> faults;

	StateRefused(List<Fault> faults) {
		super("refused: " + faults.stream().map(Fault::rule).toList());
		this.faults = List.copyOf(faults);
	}

	public List<Fault> faults() {
		return this.faults;
	}

	/**
	 * One rule that is broken.
	 *
	 * @param scar whose state breaks it; none where the day does
	 */
	public record Fault(@Nullable ScarId scar, Rule rule) {
	}

	/** What every state must keep. */
	public enum Rule {

		/** The day is still to come. */
		IN_THE_FUTURE("assessedOn"),
		/** Merged says with which one. */
		MERGED_WITHOUT_ONE("into"),
		/** Split says into which two or more. */
		SPLIT_WITHOUT_TWO("into"),
		/** Only what merged or split has become another one. */
		INTO_WITHOUT_REASON("into"),
		/** A scar becomes no other by becoming itself. */
		INTO_ITSELF("into"),
		/** Excluded says why. */
		EXCLUDED_WITHOUT_REASON("reason"),
		/** This assessor measured it on that day. */
		MEASURED_THAT_DAY("state"),
		/** This assessor measured a depth that is more than minimal on that day. */
		DEEP_THAT_DAY("state"),
		/** This assessor did not measure it on that day. */
		NOT_MEASURED_THAT_DAY("state"),
		/** This assessor has said what became of it on that day. */
		SAID_ALREADY("state");

		private final String field;

		Rule(String field) {
			this.field = field;
		}

		public String field() {
			return this.field;
		}

	}

}
