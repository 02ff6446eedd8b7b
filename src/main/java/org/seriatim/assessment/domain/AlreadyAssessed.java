package org.seriatim.assessment.domain;

import java.util.Set;

/**
 * The assessor has entered some of this for that day already; the earlier entry is
 * corrected, not entered again.
 */
public class AlreadyAssessed extends RuntimeException {

	private final transient Set<?> what;

	/**
	 * @param what scars, regions, items of scales or cells of a count; empty if only the
	 * database knows
	 */
	AlreadyAssessed(Set<?> what) {
		super("entered already for that day");
		this.what = what;
	}

	public Set<?> what() {
		return this.what;
	}

}
