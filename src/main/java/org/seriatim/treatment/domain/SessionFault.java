package org.seriatim.treatment.domain;

import java.util.List;

/**
 * One rule that a session breaks.
 *
 * @param part number of the preparation or injection that breaks it, 0 for the session as
 * a whole
 * @param evidence what the rule compares with: numbers and days
 */
public record SessionFault(SessionRule rule, int part, List<Object> evidence) {

	public SessionFault {
		evidence = List.copyOf(evidence);
	}

	static SessionFault of(SessionRule rule, Object... evidence) {
		return new SessionFault(rule, 0, List.of(evidence));
	}

	static SessionFault ofPart(SessionRule rule, int part, Object... evidence) {
		return new SessionFault(rule, part, List.of(evidence));
	}

}
