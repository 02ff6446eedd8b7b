package org.seriatim.access.domain;

import java.util.Collection;
import java.util.EnumSet;
import java.util.Set;
import java.util.UUID;

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

	private boolean passwordExpired;

	private String password;

	SignedIn(Account account, String name) {
		this.account = account.id();
		this.staff = account.staff();
		this.name = name;
		this.roles = EnumSet.copyOf(account.roles());
		this.active = account.active();
		this.passwordExpired = account.passwordExpired();
		this.password = account.password();
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

	@Override
	public Collection<? extends GrantedAuthority> getAuthorities() {
		return this.roles.stream().map((role) -> new SimpleGrantedAuthority("ROLE_" + role.name())).toList();
	}

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
