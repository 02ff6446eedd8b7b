package org.seriatim.access;

import java.util.Set;

/** Opens accounts for modules that set up a clinic. */
public interface AccountRegister {

	/** Whether nobody can sign in yet. */
	boolean isEmpty();

	/**
	 * Opens an account with a password that its owner knows.
	 * @param password at least 15 characters
	 */
	void open(String name, Set<Role> roles, String password);

}
