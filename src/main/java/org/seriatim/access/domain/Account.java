package org.seriatim.access.domain;

import java.time.Instant;
import java.util.EnumSet;
import java.util.Set;
import java.util.UUID;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.CollectionTable;
import jakarta.persistence.Column;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.Enumerated;
import jakarta.persistence.EnumType;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.hibernate.id.uuid.UuidVersion7Strategy;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Role;
import org.seriatim.access.StaffId;

/**
 * A member of staff's sign-in: password, roles, active or not. It is deactivated, never
 * deleted.
 */
@Entity
@Table(name = "account")
public class Account {

	@Id
	private UUID id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "staff_id"))
	private StaffId staff;

	private @Nullable String password;

	private boolean passwordExpired;

	private @Nullable Instant oneTimeUntil;

	private boolean passwordStandsAlone = true;

	private boolean active = true;

	private Instant createdAt;

	@ElementCollection(fetch = FetchType.EAGER)
	@CollectionTable(name = "account_role", joinColumns = @JoinColumn(name = "account_id"))
	@Column(name = "role")
	@Enumerated(EnumType.STRING)
	private Set<Role> roles = EnumSet.noneOf(Role.class);

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Account() {
	}

	@SuppressWarnings("NullAway.Init")
	Account(StaffId staff, Set<Role> roles, Instant createdAt) {
		if (roles.isEmpty()) {
			throw new IllegalArgumentException("an account needs at least one role");
		}
		this.id = UuidVersion7Strategy.INSTANCE.generateUuid(null);
		this.staff = staff;
		this.roles = EnumSet.copyOf(roles);
		this.createdAt = createdAt;
	}

	/**
	 * A password that its owner replaces at the first sign-in.
	 * @param until when it opens nothing any more
	 */
	void giveOneTimePassword(String encoded, Instant until) {
		this.password = encoded;
		this.passwordExpired = true;
		this.oneTimeUntil = until;
		this.passwordStandsAlone = true;
	}

	/**
	 * @param standsAlone whether it is long enough to be used without a second factor
	 */
	void choosePassword(String encoded, boolean standsAlone) {
		this.password = encoded;
		this.passwordExpired = false;
		this.oneTimeUntil = null;
		this.passwordStandsAlone = standsAlone;
	}

	/** Nobody can sign in until a password is chosen again. */
	void forgetPassword() {
		this.password = null;
		this.passwordExpired = false;
		this.oneTimeUntil = null;
		this.passwordStandsAlone = true;
	}

	void giveRoles(Set<Role> roles) {
		if (roles.isEmpty()) {
			throw new IllegalArgumentException("an account needs at least one role");
		}
		this.roles.clear();
		this.roles.addAll(roles);
	}

	void deactivate() {
		this.active = false;
	}

	void reactivate() {
		this.active = true;
	}

	public UUID id() {
		return this.id;
	}

	public StaffId staff() {
		return this.staff;
	}

	/** Its hash; {@code null} while none is chosen. */
	@Nullable String password() {
		return this.password;
	}

	boolean passwordStandsAlone() {
		return this.passwordStandsAlone;
	}

	public boolean passwordExpired() {
		return this.passwordExpired;
	}

	public boolean active() {
		return this.active;
	}

	public Set<Role> roles() {
		return Set.copyOf(this.roles);
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Account account && this.id.equals(account.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Account " + this.id;
	}

}
