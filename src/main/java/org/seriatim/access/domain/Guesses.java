package org.seriatim.access.domain;

import java.nio.charset.StandardCharsets;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

import org.seriatim.access.UnknownAddresses;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * Slows guessing down without a way to shut anybody out. A guess counts, before it is
 * looked at, against whom it is about and where it comes from together. One from a place
 * where that account was never signed in also counts against the address it comes from,
 * against the account, and against all strangers together; none of these three is asked
 * for a place that the account knows. So the owner's own browser, and an address from
 * which nobody guessed, stay open whatever others do; and an account takes no more than
 * {@value #MOST_BY_STRANGERS} wrong guesses of strangers in a row (NIST SP 800-63B-4,
 * 3.2.2; OWASP ASVS 5.0.0, 6.1.1 and 6.3.1).
 */
@Service
public class Guesses implements UnknownAddresses {

	private static final int MOST_BY_STRANGERS = 100;

	private static final Pace FROM_ONE_PLACE = new Pace(5, Duration.ofSeconds(5), Duration.ofHours(1),
			Duration.ofHours(1));

	private static final Pace FROM_ONE_ADDRESS = new Pace(50, Duration.ofSeconds(1), Duration.ofMinutes(15),
			Duration.ofMinutes(1));

	private static final Pace ON_ONE_ACCOUNT = new Pace(MOST_BY_STRANGERS - 1, Duration.ofMinutes(15),
			Duration.ofMinutes(15), Duration.ofMinutes(15));

	private static final Pace BY_ALL_STRANGERS = new Pace(1000, Duration.ofSeconds(1), Duration.ofSeconds(30),
			Duration.ofSeconds(1));

	private static final Duration KEPT = Duration.ofDays(3);

	private final JdbcClient database;

	private final ServiceKey key;

	private final Clock clock;

	Guesses(JdbcClient database, ServiceKey key, Clock clock) {
		this.database = database;
		this.key = key;
		this.clock = clock;
	}

	/** What is guessed. */
	public enum Kind {

		PASSWORD, CODE, INVITATION, SETUP;

		private String word() {
			return name().toLowerCase(Locale.ROOT);
		}

	}

	/**
	 * Where a guess comes from.
	 *
	 * @param address of the network
	 * @param known a mark of the browser, or else the address, if the account that is
	 * guessed at was signed in to there; empty for a stranger
	 */
	public record Origin(String address, String known) {

		boolean isStranger() {
			return this.known.isEmpty();
		}

		private String place() {
			return isStranger() ? "address " + this.address : "known " + this.known;
		}

	}

	/** A guess that was counted and may now be looked at. */
	public static final class Guess {

		private final List<Count> counts;

		private Guess(List<Count> counts) {
			this.counts = counts;
		}

	}

	private record Count(String kind, byte[] place, Pace pace, boolean clearedByRight) {
	}

	/**
	 * Counts a guess before it is looked at, so that many at once are no way around.
	 * @param about whom: the name typed, whether or not there is such an account; empty
	 * for what is about no account
	 * @throws TooManyGuesses if it comes too early
	 */
	@Transactional(propagation = Propagation.REQUIRES_NEW)
	public Guess count(Kind kind, String about, Origin origin) {
		var counts = new ArrayList<Count>();
		String subject = kind.word() + "\n" + about.toLowerCase(Locale.ROOT);
		counts.add(counted("place", subject + "\n" + origin.place(), FROM_ONE_PLACE, true));
		if (origin.isStranger()) {
			counts.add(counted("address", origin.address(), FROM_ONE_ADDRESS, false));
			if (!about.isEmpty()) {
				counts.add(counted("account", subject, ON_ONE_ACCOUNT, true));
			}
			counts.add(counted("strangers", "", BY_ALL_STRANGERS, false));
		}
		Instant now = now();
		var held = counts.stream().map((count) -> held(count, now)).toList();
		held.stream().map(Pace.Held::notBefore).filter(now::isBefore).max(Instant::compareTo).ifPresent((free) -> {
			throw new TooManyGuesses(Duration.between(now, free));
		});
		for (int i = 0; i < counts.size(); i++) {
			keep(counts.get(i), counts.get(i).pace().counted(held.get(i), now));
		}
		return new Guess(counts);
	}

	@Override
	@Transactional(propagation = Propagation.REQUIRES_NEW)
	public Duration asked(String networkAddress) {
		var count = counted("unknown", networkAddress, FROM_ONE_ADDRESS, false);
		var now = now();
		var held = held(count, now);
		if (held.waits(now)) {
			return Duration.between(now, held.notBefore());
		}
		keep(count, count.pace().counted(held, now));
		return Duration.ZERO;
	}

	/** The guess was right: its place and its account start anew. */
	@Transactional(propagation = Propagation.REQUIRES_NEW)
	public void right(Guess guess) {
		for (Count count : guess.counts) {
			if (count.clearedByRight()) {
				this.database.sql("delete from guess where kind = :kind and place = :place")
					.param("kind", count.kind())
					.param("place", count.place())
					.update();
			}
			else {
				keep(count, count.pace().forgiven(held(count, now())));
			}
		}
		this.database.sql("delete from guess where last_at < :then").param("then", at(now().minus(KEPT))).update();
	}

	private Count counted(String kind, String place, Pace pace, boolean clearedByRight) {
		return new Count(kind, this.key.sign("guess", kind + "\n" + place).getBytes(StandardCharsets.US_ASCII), pace,
				clearedByRight);
	}

	/* The row is made first, so that it can be locked: others wait for their turn. */
	private Pace.Held held(Count count, Instant now) {
		this.database.sql("""
				insert into guess (kind, place, failed, last_at, not_before) values (:kind, :place, 0, :now, :now)
				on conflict do nothing""")
			.param("kind", count.kind())
			.param("place", count.place())
			.param("now", at(now))
			.update();
		return this.database
			.sql("select failed, last_at, not_before from guess where kind = :kind and place = :place for update")
			.param("kind", count.kind())
			.param("place", count.place())
			.query(Guesses::held)
			.single();
	}

	private static Pace.Held held(ResultSet row, int number) throws SQLException {
		return new Pace.Held(row.getInt("failed"), row.getObject("last_at", OffsetDateTime.class).toInstant(),
				row.getObject("not_before", OffsetDateTime.class).toInstant());
	}

	private void keep(Count count, Pace.Held held) {
		this.database.sql("""
				update guess set failed = :failed, last_at = :last, not_before = :free
				where kind = :kind and place = :place""")
			.param("failed", held.failed())
			.param("last", at(held.lastAt()))
			.param("free", at(held.notBefore()))
			.param("kind", count.kind())
			.param("place", count.place())
			.update();
	}

	/** As fine as the database keeps it, or what it rounds up would lie ahead. */
	private Instant now() {
		return this.clock.instant().truncatedTo(ChronoUnit.MICROS);
	}

	private OffsetDateTime at(Instant instant) {
		return OffsetDateTime.ofInstant(instant, this.clock.getZone());
	}

}
