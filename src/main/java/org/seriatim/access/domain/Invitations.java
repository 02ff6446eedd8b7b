package org.seriatim.access.domain;

import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

import org.seriatim.access.AuditLog;
import org.seriatim.access.Role;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Codes with which somebody chooses the password of an account without having signed in:
 * the first one, or another when it is forgotten. The code is shown once, kept as a hash,
 * and works once within its time; a newer one takes its place.
 */
@Service
@Transactional
public class Invitations {

	private final JdbcClient database;

	private final ManageAccounts accounts;

	private final SignIns signIns;

	private final SignInSettings settings;

	private final AuditLog audit;

	private final Clock clock;

	Invitations(JdbcClient database, ManageAccounts accounts, SignIns signIns, SignInSettings settings, AuditLog audit,
			Clock clock) {
		this.database = database;
		this.accounts = accounts;
		this.signIns = signIns;
		this.settings = settings;
		this.audit = audit;
		this.clock = clock;
	}

	/**
	 * A code as it is handed over.
	 *
	 * @param name whose account it opens
	 */
	public record Invitation(UUID account, String name, String code, Instant expiresAt) {

		@Override
		public String toString() {
			return "Invitation[" + this.account + "]";
		}

	}

	/** Whom an invitation is for. */
	public record Invited(UUID account, String name) {
	}

	/**
	 * Opens an account that waits for its owner.
	 * @throws NameTaken if that member of staff has an account
	 */
	public Invitation invite(String name, Set<Role> roles) {
		return invite(this.accounts.openWithoutPassword(name, roles));
	}

	/**
	 * Lets the owner of an account choose another password. The one until now works until
	 * then.
	 */
	public Invitation invite(UUID account) {
		withdraw(account);
		String code = SpokenCode.next();
		Instant expires = this.clock.instant().plus(this.settings.invitation());
		this.database.sql("""
				insert into invitation (account_id, code_hash, made_at, expires_at)
				values (:account, :hash, :now, :expires)""")
			.param("account", account)
			.param("hash", SpokenCode.hash(code))
			.param("now", now())
			.param("expires", OffsetDateTime.ofInstant(expires, this.clock.getZone()))
			.update();
		this.audit.record(AuditLog.Action.ADMINISTERED, "account", account, null, "invited");
		return new Invitation(account, this.accounts.nameOf(account), code, expires);
	}

	void withdraw(UUID account) {
		this.database.sql("""
				update invitation set withdrawn_at = :now
				where account_id = :account and used_at is null and withdrawn_at is null""")
			.param("now", now())
			.param("account", account)
			.update();
	}

	/** Whom the code is for; empty if it is wrong, used, withdrawn or too old. */
	@Transactional(readOnly = true)
	public Optional<Invited> invited(String code) {
		return this.database.sql("""
				select account.id, staff.name from invitation
				join account on account.id = invitation.account_id and account.active
				join staff on staff.id = account.staff_id
				where code_hash = :hash and used_at is null and withdrawn_at is null and expires_at > :now""")
			.param("hash", SpokenCode.hash(code))
			.param("now", now())
			.query((row, number) -> new Invited(row.getObject("id", UUID.class), row.getString("name")))
			.optional();
	}

	/**
	 * Uses the code. Whoever is signed in to the account is signed out.
	 * @return whose account it was; empty if the code no longer works
	 * @throws PasswordRefused if the password breaks a rule; then the code still works
	 */
	public Optional<Invited> accept(String code, String password) {
		var invited = invited(code);
		invited.ifPresent((owner) -> {
			this.accounts.choosePassword(owner.account(), password);
			this.database.sql("update invitation set used_at = :now where code_hash = :hash")
				.param("now", now())
				.param("hash", SpokenCode.hash(code))
				.update();
			this.signIns.endAll(owner.account(), SignIns.End.NEW_PASSWORD, null);
		});
		return invited;
	}

	private OffsetDateTime now() {
		return OffsetDateTime.now(this.clock);
	}

}
