package org.seriatim.access.domain;

import java.security.SecureRandom;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

import org.seriatim.access.AuditLog;
import org.seriatim.access.Sha256;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Tokens for scripts. A token carries the rights of the account that made it, as they are
 * when it is used; only its SHA-256 is stored, which is enough because a token is 256
 * random bits.
 */
@Service
@Transactional
public class ApiTokens {

	private final JdbcClient database;

	private final Staff staff;

	private final Accounts accounts;

	private final Standings standings;

	private final AuditLog audit;

	private final Clock clock;

	private final SecureRandom random = new SecureRandom();

	ApiTokens(JdbcClient database, Staff staff, Accounts accounts, Standings standings, AuditLog audit, Clock clock) {
		this.database = database;
		this.staff = staff;
		this.accounts = accounts;
		this.standings = standings;
		this.audit = audit;
		this.clock = clock;
	}

	/** A token as its owner sees it after it was made. */
	public record Made(UUID id, Instant createdAt) {
	}

	/** Makes a token; what is returned is shown once. */
	public String make(UUID account) {
		byte[] secret = new byte[32];
		this.random.nextBytes(secret);
		String token = Base64.getUrlEncoder().withoutPadding().encodeToString(secret);
		UUID id = this.database.sql("""
				insert into api_token (account_id, token_hash, created_at)
				values (:account, :hash, :at) returning id""")
			.param("account", account)
			.param("hash", Sha256.of(token))
			.param("at", OffsetDateTime.now(this.clock))
			.query(UUID.class)
			.single();
		this.audit.record(AuditLog.Action.ADMINISTERED, "api_token", id, null, "made");
		return token;
	}

	/** Makes a token for the account of that name; empty where there is none. */
	public Optional<String> makeFor(String name) {
		return this.staff.byName(name)
			.flatMap((member) -> this.accounts.findByStaff(member.id()))
			.map((account) -> make(account.id()));
	}

	@Transactional(readOnly = true)
	public List<Made> of(UUID account) {
		return this.database.sql("""
				select id, created_at from api_token
				where account_id = :account and revoked_at is null order by created_at""")
			.param("account", account)
			.query((row, number) -> new Made(row.getObject("id", UUID.class),
					row.getObject("created_at", OffsetDateTime.class).toInstant()))
			.list();
	}

	/**
	 * Revokes a token of that account; another's token is left alone and reported as not
	 * found.
	 */
	public boolean revoke(UUID token, UUID account) {
		boolean revoked = this.database.sql("""
				update api_token set revoked_at = :at
				where id = :token and account_id = :account and revoked_at is null""")
			.param("at", OffsetDateTime.now(this.clock))
			.param("token", token)
			.param("account", account)
			.update() == 1;
		if (revoked) {
			this.audit.record(AuditLog.Action.ADMINISTERED, "api_token", token, null, "revoked");
		}
		return revoked;
	}

	/** Revokes all tokens of that account. */
	void revokeAll(UUID account) {
		of(account).forEach((token) -> revoke(token.id(), account));
	}

	/** A token that was shown, and whose rights it carries. */
	public record Shown(UUID id, SignedIn holder) {
	}

	/** Which token it is, if it is one, not revoked, of an active account. */
	@Transactional(readOnly = true)
	public Optional<Shown> shown(String token) {
		return this.database.sql("""
				select id, account_id from api_token where token_hash = :hash and revoked_at is null""")
			.param("hash", Sha256.of(token))
			.query((row, number) -> Map.entry(row.getObject("id", UUID.class), row.getObject("account_id", UUID.class)))
			.optional()
			.flatMap((found) -> this.standings.of(found.getValue())
				.map((standing) -> new Shown(found.getKey(), standing.person())))
			.filter((shown) -> shown.holder().isEnabled());
	}

}
