package org.seriatim.access.domain;

import java.util.List;
import java.util.Set;
import java.util.UUID;

import org.seriatim.access.Role;

/** The accounts as an administrator sees them. */
public record AccountList(List<Row> rows) {

	public record Row(UUID id, String name, Set<Role> roles, boolean active, boolean oneTimePassword) {
	}

}
