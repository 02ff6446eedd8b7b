package org.seriatim.access;

import java.util.Optional;
import java.util.Set;

/**
 * Who is acting: the person signed in or holding the token, or nobody for the service
 * itself and its commands.
 */
public interface CurrentStaff {

	Optional<StaffId> id();

	/** The acting person's roles; empty for the service itself. */
	Set<Role> roles();

	default boolean has(Role role) {
		return roles().contains(role);
	}

}
