package org.seriatim.access.domain;

import java.util.Collection;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.EmergencyAccess;
import org.seriatim.access.Role;
import org.seriatim.access.StaffId;
import org.springframework.security.core.CredentialsContainer;
import org.springframework.security.core.GrantedAuthority;
import org.springframework.security.core.authority.SimpleGrantedAuthority;
import org.springframework.security.core.userdetails.UserDetails;

/** The person behind a request, as Spring Security carries it. */
public final class SignedIn implements UserDetails, CredentialsContainer {

	private static final long serialVersionUID = 1L;

	private final UUID account;

	private final StaffId staff;

	private final String name;

	private final EnumSet<Role> roles;

	private final boolean active;

	private final boolean passwordExpired;

	private final boolean hasSecondFactor;

	private final boolean needsSecondFactor;

	private final @Nullable EmergencyAccess emergency;

	private String password;

	SignedIn(UUID account, StaffId staff, String name, Set<Role> roles, boolean active, boolean passwordExpired,
			boolean hasSecondFactor, boolean needsSecondFactor, @Nullable EmergencyAccess emergency,
			@Nullable String password) {
		this.account = account;
		this.staff = staff;
		this.name = name;
		this.roles = EnumSet.noneOf(Role.class);
		this.roles.addAll(roles);
		this.active = active;
		this.passwordExpired = passwordExpired;
		this.hasSecondFactor = hasSecondFactor;
		this.needsSecondFactor = needsSecondFactor;
		this.emergency = emergency;
		this.password = (password != null) ? password : "";
	}

	public UUID account() {
		return this.account;
	}

	public StaffId staff() {
		return this.staff;
	}

	public Set<Role> roles() {
		return Set.copyOf(this.roles);
	}

	/**
	 * Whether the password is a one-time one that has to be replaced before anything
	 * else.
	 */
	public boolean mustChoosePassword() {
		return this.passwordExpired;
	}

	/**
	 * Whether the account has a second factor, so that its password alone opens nothing.
	 */
	public boolean hasSecondFactor() {
		return this.hasSecondFactor;
	}

	/** Whether one of the roles demands a second factor. */
	public boolean needsSecondFactor() {
		return this.needsSecondFactor;
	}

	/** The patient's record that is open to the person beyond their roles, if one is. */
	public Optional<EmergencyAccess> emergency() {
		return Optional.ofNullable(this.emergency);
	}

	@Override
	public Collection<? extends GrantedAuthority> getAuthorities() {
		return this.roles.stream().map((role) -> new SimpleGrantedAuthority("ROLE_" + role.name())).toList();
	}

	/** Its hash; empty once it was checked, or where none is chosen. */
	@Override
	public String getPassword() {
		return this.password;
	}

	@Override
	public String getUsername() {
		return this.name;
	}

	@Override
	public boolean isEnabled() {
		return this.active;
	}

	@Override
	public void eraseCredentials() {
		this.password = "";
	}

}
