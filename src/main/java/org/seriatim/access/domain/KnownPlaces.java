package org.seriatim.access.domain;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.Duration;
import java.time.OffsetDateTime;
import java.util.Base64;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.Sha256;
import org.seriatim.access.StaffMember;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Browsers and addresses from which an account was signed in to before. A browser proves
 * itself by a long-lived signed mark that it was given at a sign-in; the mark opens
 * nothing by itself.
 */
@Service
@Transactional
public class KnownPlaces {

	private static final String PURPOSE = "device";

	private static final int MARK_BYTES = 24;

	/** Whoever was signed in to from there so long ago is a stranger again. */
	private static final Duration ADDRESS_KNOWN = Duration.ofDays(30);

	private final JdbcClient database;

	private final Staff staff;

	private final Accounts accounts;

	private final SignIns signIns;

	private final ServiceKey key;

	private final SignInSettings settings;

	private final Clock clock;

	private final SecureRandom random = new SecureRandom();

	KnownPlaces(JdbcClient database, Staff staff, Accounts accounts, SignIns signIns, ServiceKey key,
			SignInSettings settings, Clock clock) {
		this.database = database;
		this.staff = staff;
		this.accounts = accounts;
		this.signIns = signIns;
		this.key = key;
		this.settings = settings;
		this.clock = clock;
	}

	/**
	 * Where a guess at the account of that name comes from.
	 * @param mark the mark that the browser brought
	 */
	@Transactional(readOnly = true)
	public Guesses.Origin origin(String name, String address, @Nullable String mark) {
		return new Guesses.Origin(address, account(name).map((account) -> known(account, address, mark)).orElse(""));
	}

	private String known(UUID account, String address, @Nullable String mark) {
		if (mark != null && isOurs(mark) && knows(account, mark)) {
			return mark;
		}
		return this.signIns.cameFrom(account, address, this.clock.instant().minus(ADDRESS_KNOWN)) ? address : "";
	}

	/**
	 * Remembers a browser in which the account is signed in now.
	 * @param mark the mark that the browser brought
	 * @return the mark that it is to keep
	 */
	public String remember(UUID account, @Nullable String mark) {
		String kept = (mark != null && isOurs(mark)) ? mark : newMark();
		this.database
			.sql("""
					insert into known_device (account_id, device_hash, first_at, last_at) values (:account, :hash, :now, :now)
					on conflict (account_id, device_hash) do update set last_at = excluded.last_at""")
			.param("account", account)
			.param("hash", Sha256.of(kept))
			.param("now", OffsetDateTime.now(this.clock))
			.update();
		return kept;
	}

	public Duration markLasts() {
		return this.settings.device();
	}

	private boolean knows(UUID account, String mark) {
		return this.database.sql("""
				select exists (select from known_device
					where account_id = :account and device_hash = :hash and last_at >= :since)""")
			.param("account", account)
			.param("hash", Sha256.of(mark))
			.param("since", OffsetDateTime.now(this.clock).minus(this.settings.device()))
			.query(Boolean.class)
			.single();
	}

	private Optional<UUID> account(String name) {
		return this.staff.byName(name).map(StaffMember::id).flatMap(this.accounts::findByStaff).map(Account::id);
	}

	private String newMark() {
		byte[] mark = new byte[MARK_BYTES];
		this.random.nextBytes(mark);
		String text = Base64.getUrlEncoder().withoutPadding().encodeToString(mark);
		return text + "." + this.key.sign(PURPOSE, text);
	}

	private boolean isOurs(String mark) {
		int dot = mark.indexOf('.');
		return dot > 0 && MessageDigest.isEqual(mark.substring(dot + 1).getBytes(StandardCharsets.UTF_8),
				this.key.sign(PURPOSE, mark.substring(0, dot)).getBytes(StandardCharsets.UTF_8));
	}

}
