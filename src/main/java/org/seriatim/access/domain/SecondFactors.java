package org.seriatim.access.domain;

import java.security.MessageDigest;
import java.security.SecureRandom;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.LongStream;
import java.util.stream.Stream;

import org.seriatim.access.AuditLog;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.web.util.UriUtils;

/**
 * The second factor of accounts: codes from an app (RFC 6238), each accepted once and
 * from one step before to one step after, and ten recovery codes for when the app is
 * lost.
 */
@Service
@Transactional
public class SecondFactors {

	static final int RECOVERY_CODES = 10;

	private static final String ISSUER = "Seriatim";

	private final JdbcClient database;

	private final SealedSecrets sealed;

	private final AuditLog audit;

	private final Clock clock;

	private final SecureRandom random = new SecureRandom();

	SecondFactors(JdbcClient database, SealedSecrets sealed, AuditLog audit, Clock clock) {
		this.database = database;
		this.sealed = sealed;
		this.audit = audit;
		this.clock = clock;
	}

	/**
	 * What an app has to be told.
	 *
	 * @param secret in base32
	 * @param address the same as an {@code otpauth} address, for a drawing that the app
	 * reads
	 */
	public record Enrolment(String secret, String address) {

		@Override
		public String toString() {
			return "Enrolment[]";
		}

	}

	private record Kept(byte[] secret, boolean confirmed, long lastStep) {

		static Kept of(ResultSet row, int number) throws SQLException {
			return new Kept(row.getBytes("secret"), row.getObject("confirmed_at") != null, row.getLong("last_step"));
		}

	}

	@Transactional(readOnly = true)
	public boolean isOn(UUID account) {
		return kept(account).filter(Kept::confirmed).isPresent();
	}

	/**
	 * What is shown while an account has no second factor yet; the same until it is
	 * confirmed, since the app may have read it already.
	 * @throws IllegalStateException if it has one
	 */
	public Enrolment enrolment(UUID account, String name) {
		var kept = kept(account);
		if (kept.filter(Kept::confirmed).isPresent()) {
			throw new IllegalStateException("the account has a second factor");
		}
		byte[] secret = kept.flatMap((begun) -> this.sealed.open(account, begun.secret()))
			.orElseGet(() -> begin(account));
		String text = Base32.encode(secret);
		return new Enrolment(text, "otpauth://totp/%s:%s?secret=%s&issuer=%s&algorithm=SHA1&digits=%d&period=30"
			.formatted(ISSUER, UriUtils.encode(name, "UTF-8"), text, ISSUER, Totp.FIGURES));
	}

	private byte[] begin(UUID account) {
		byte[] secret = new byte[Totp.SECRET_BYTES];
		this.random.nextBytes(secret);
		this.database.sql("""
				insert into second_factor (account_id, secret, begun_at) values (:account, :secret, :now)
				on conflict (account_id) do update set secret = excluded.secret, begun_at = excluded.begun_at
				where second_factor.confirmed_at is null""")
			.param("account", account)
			.param("secret", this.sealed.seal(account, secret))
			.param("now", OffsetDateTime.now(this.clock))
			.update();
		return secret;
	}

	/**
	 * Turns the second factor on, if the code proves that the app has read the secret.
	 * @return the recovery codes, which are shown this once; empty if the code is wrong
	 */
	public Optional<List<String>> confirm(UUID account, String code) {
		var kept = kept(account).filter((begun) -> !begun.confirmed());
		if (kept.isEmpty() || !use(account, kept.get(), code)) {
			return Optional.empty();
		}
		this.database.sql("update second_factor set confirmed_at = :now where account_id = :account")
			.param("now", OffsetDateTime.now(this.clock))
			.param("account", account)
			.update();
		record(account, "second factor on");
		return Optional.of(freshRecoveryCodes(account));
	}

	/**
	 * Takes a code of the app or a recovery code; either counts once.
	 * @return whether it is right
	 */
	public boolean take(UUID account, String typed) {
		var kept = kept(account).filter(Kept::confirmed);
		return kept.isPresent() && (use(account, kept.get(), typed) || useRecoveryCode(account, typed));
	}

	/** New recovery codes in place of those until now; they are shown this once. */
	public List<String> renewRecoveryCodes(UUID account) {
		if (!isOn(account)) {
			throw new IllegalStateException("the account has no second factor");
		}
		record(account, "recovery codes renewed");
		return freshRecoveryCodes(account);
	}

	@Transactional(readOnly = true)
	public int recoveryCodesLeft(UUID account) {
		return this.database.sql("select count(*) from recovery_code where account_id = :account and used_at is null")
			.param("account", account)
			.query(Integer.class)
			.single();
	}

	/** Turns it off; whether the account may be without one is the caller's concern. */
	public void remove(UUID account) {
		this.database.sql("delete from recovery_code where account_id = :account").param("account", account).update();
		int removed = this.database.sql("delete from second_factor where account_id = :account")
			.param("account", account)
			.update();
		if (removed > 0) {
			record(account, "second factor off");
		}
	}

	private Optional<Kept> kept(UUID account) {
		return this.database
			.sql("select secret, confirmed_at, last_step from second_factor where account_id = :account")
			.param("account", account)
			.query(Kept::of)
			.optional();
	}

	/*
	 * The step is taken by the statement that checks it, so that of two requests with one
	 * code only one gets through.
	 */
	private boolean use(UUID account, Kept kept, String typed) {
		String code = typed.replaceAll("\\s", "");
		byte[] secret = this.sealed.open(account, kept.secret()).orElse(null);
		if (secret == null) {
			return false;
		}
		long now = Totp.step(this.clock.instant());
		return LongStream.rangeClosed(now - 1, now + 1)
			.filter((step) -> step > kept.lastStep() && equal(Totp.code(secret, step, Totp.FIGURES), code))
			.anyMatch((step) -> this.database.sql("""
					update second_factor set last_step = :step
					where account_id = :account and coalesce(last_step, 0) < :step""")
				.param("step", step)
				.param("account", account)
				.update() == 1);
	}

	private boolean useRecoveryCode(UUID account, String typed) {
		boolean used = this.database.sql("""
				update recovery_code set used_at = :now
				where account_id = :account and code_hash = :hash and used_at is null""")
			.param("now", OffsetDateTime.now(this.clock))
			.param("account", account)
			.param("hash", SpokenCode.hash(typed))
			.update() == 1;
		if (used) {
			record(account, "recovery code used");
		}
		return used;
	}

	private List<String> freshRecoveryCodes(UUID account) {
		this.database.sql("delete from recovery_code where account_id = :account").param("account", account).update();
		var codes = Stream.generate(SpokenCode::next).limit(RECOVERY_CODES).toList();
		codes.forEach((code) -> this.database
			.sql("insert into recovery_code (account_id, code_hash) values (:account, :hash)")
			.param("account", account)
			.param("hash", SpokenCode.hash(code))
			.update());
		return codes;
	}

	private void record(UUID account, String what) {
		this.audit.record(AuditLog.Action.ADMINISTERED, "account", account, null, what);
	}

	private static boolean equal(String one, String other) {
		return MessageDigest.isEqual(one.getBytes(), other.getBytes());
	}

}
