package org.seriatim.followup;

import java.util.List;

/**
 * A technique note or a caution: it changes no date.
 */
public record Remark(Sentence sentence, List<Evidence> evidence) {

	public Remark {
		evidence = List.copyOf(evidence);
	}

}
