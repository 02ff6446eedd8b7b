package org.seriatim.assessment.domain;

import java.util.Set;

import org.seriatim.assessment.ScarId;

/** A second rating needs a first one of the same scar, day and assessor. */
public class NoFirstRating extends RuntimeException {

	private final transient Set<ScarId> scars;

	NoFirstRating(Set<ScarId> scars) {
		super("no first rating to repeat");
		this.scars = scars;
	}

	public Set<ScarId> scars() {
		return this.scars;
	}

}
