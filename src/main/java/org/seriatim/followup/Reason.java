package org.seriatim.followup;

import java.util.List;

/**
 * A rule that fired, with the sentence that says why and the records it rests on.
 */
public record Reason(Rule rule, Sentence sentence, List<Evidence> evidence) {

	public Reason {
		evidence = List.copyOf(evidence);
	}

}
