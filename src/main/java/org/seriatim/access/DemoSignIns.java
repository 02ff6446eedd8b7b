package org.seriatim.access;

import java.util.List;
import java.util.Set;

/**
 * Tells the sign-in page which invented people may sign in, while and only while the demo
 * clinic is loaded.
 */
public interface DemoSignIns {

	/**
	 * One of them; the password is no secret, since everything that it opens is invented.
	 */
	record DemoSignIn(String name, String password, Set<Role> roles) {
	}

	/** Empty while the demo clinic is not loaded. */
	List<DemoSignIn> list();

}
