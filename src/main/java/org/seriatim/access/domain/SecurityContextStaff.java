package org.seriatim.access.domain;

import java.util.Optional;
import java.util.Set;

import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffId;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;

@Component
class SecurityContextStaff implements CurrentStaff {

	@Override
	public Optional<StaffId> id() {
		return signedIn().map(SignedIn::staff);
	}

	@Override
	public Set<Role> roles() {
		return signedIn().map(SignedIn::roles).orElse(Set.of());
	}

	private static Optional<SignedIn> signedIn() {
		var authentication = SecurityContextHolder.getContext().getAuthentication();
		return (authentication != null && authentication.getPrincipal() instanceof SignedIn person)
				? Optional.of(person) : Optional.empty();
	}

}
