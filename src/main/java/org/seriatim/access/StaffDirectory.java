package org.seriatim.access;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** The clinic's staff, with and without a sign-in. */
public interface StaffDirectory {

	/** Everybody, by name. */
	List<StaffMember> all();

	/** Those whose account holds the role and is active, by name. */
	List<StaffMember> holding(Role role);

	Optional<StaffMember> byId(StaffId id);

	/**
	 * The members with these names; a name that is not there yet becomes staff without a
	 * sign-in.
	 */
	Map<String, StaffId> named(Collection<String> names);

}
