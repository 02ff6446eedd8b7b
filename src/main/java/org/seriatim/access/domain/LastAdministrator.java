package org.seriatim.access.domain;

/** The change would leave no active account that can manage accounts. */
public final class LastAdministrator extends RuntimeException {

	private static final long serialVersionUID = 1L;

	LastAdministrator() {
		super("the last active administrator stays one");
	}

}
