package org.seriatim.access.domain;

/** The name belongs to a member of staff who already has an account. */
public final class NameTaken extends RuntimeException {

	private static final long serialVersionUID = 1L;

	NameTaken(String name) {
		super("an account named '" + name + "' exists");
	}

}
