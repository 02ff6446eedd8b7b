package org.seriatim.access.domain;

import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.session.FindByIndexNameSessionRepository;
import org.springframework.session.Session;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Where an account is and was signed in. A sign-in lives as long as its HTTP session,
 * unless it is ended before; what ended cannot be used from that moment on.
 */
@Service
@Transactional
public class SignIns {

	/** The attribute of an HTTP session that names its sign-in. */
	public static final String ATTRIBUTE = "signIn";

	private static final int SHOWN = 50;

	private final JdbcClient database;

	private final Staff staff;

	private final ObjectProvider<FindByIndexNameSessionRepository<? extends Session>> sessions;

	private final Clock clock;

	SignIns(JdbcClient database, Staff staff,
			ObjectProvider<FindByIndexNameSessionRepository<? extends Session>> sessions, Clock clock) {
		this.database = database;
		this.staff = staff;
		this.sessions = sessions;
		this.clock = clock;
	}

	/** Why a sign-in ended before its time. */
	public enum End {

		OWNER, ADMINISTRATOR, DEACTIVATION, NEW_PASSWORD;

		String word() {
			return name().toLowerCase(Locale.ROOT);
		}

	}

	/**
	 * A sign-in as its owner sees it.
	 *
	 * @param lastUsedAt when it was used last; {@code null} if it is over
	 * @param complete whether the second factor, where one was asked for, was given
	 */
	public record Row(UUID id, Instant at, String address, String browser, @Nullable Instant lastUsedAt,
			boolean complete) {

		public boolean isOpen() {
			return this.lastUsedAt != null;
		}

	}

	/**
	 * @param address where from
	 * @param browser which kind
	 */
	public UUID begin(UUID account, String address, String browser) {
		return this.database.sql("""
				insert into sign_in (account_id, at, address, browser) values (:account, :now, :address, :browser)
				returning id""")
			.param("account", account)
			.param("now", now())
			.param("address", address)
			.param("browser", browser)
			.query(UUID.class)
			.single();
	}

	/** All that was asked for was given. */
	public void complete(UUID signIn) {
		this.database.sql("update sign_in set completed_at = :now where id = :id and completed_at is null")
			.param("now", now())
			.param("id", signIn)
			.update();
	}

	/** The sign-ins of an account, the open ones first, then the newest. */
	@Transactional(readOnly = true)
	public List<Row> of(UUID account) {
		var lastUse = new HashMap<String, Instant>();
		sessionsOf(account).forEach((id, session) -> lastUse.put(signIn(session), session.getLastAccessedTime()));
		return this.database.sql("""
				select id, at, address, browser, ended_at, completed_at from sign_in
				where account_id = :account order by at desc, id desc limit :most""")
			.param("account", account)
			.param("most", SHOWN)
			.query((row, number) -> new Row(row.getObject("id", UUID.class),
					row.getObject("at", OffsetDateTime.class).toInstant(), row.getString("address"),
					row.getString("browser"),
					(row.getObject("ended_at") != null) ? null : lastUse.get(row.getString("id")),
					row.getObject("completed_at") != null))
			.stream()
			.sorted(Comparator.comparing(Row::isOpen).reversed())
			.toList();
	}

	/** Ends one of the account's; another account's is left alone and not found. */
	public boolean end(UUID signIn, UUID account, End by) {
		boolean ended = this.database.sql("""
				update sign_in set ended_at = :now, ended_by = :by
				where id = :id and account_id = :account and ended_at is null""")
			.param("now", now())
			.param("by", by.word())
			.param("id", signIn)
			.param("account", account)
			.update() == 1;
		if (ended) {
			forget(account, List.of(signIn.toString()));
		}
		return ended;
	}

	/** Its own session ended it. */
	public void endHere(UUID signIn) {
		this.database.sql("update sign_in set ended_at = :now, ended_by = :by where id = :id and ended_at is null")
			.param("now", now())
			.param("by", End.OWNER.word())
			.param("id", signIn)
			.update();
	}

	/**
	 * Ends all of the account's.
	 * @param except the one that stays
	 */
	public void endAll(UUID account, End by, @Nullable UUID except) {
		var ended = new ArrayList<>(this.database.sql("""
				update sign_in set ended_at = :now, ended_by = :by
				where account_id = :account and ended_at is null and id is distinct from cast(:except as uuid)
				returning id""")
			.param("now", now())
			.param("by", by.word())
			.param("account", account)
			.param("except", (except != null) ? except.toString() : null)
			.query(String.class)
			.list());
		forget(account, ended);
	}

	/** Whether the account was signed in to from this address in the last while. */
	@Transactional(readOnly = true)
	boolean cameFrom(UUID account, String address, Instant since) {
		return this.database.sql("""
				select exists (select from sign_in where account_id = :account and address = :address
					and completed_at >= :since)""")
			.param("account", account)
			.param("address", address)
			.param("since", OffsetDateTime.ofInstant(since, this.clock.getZone()))
			.query(Boolean.class)
			.single();
	}

	/* What the sessions hold is of no use to anybody any more. */
	private void forget(UUID account, List<String> ended) {
		sessionsOf(account).forEach((id, session) -> {
			if (ended.contains(signIn(session))) {
				this.sessions.ifAvailable((repository) -> repository.deleteById(id));
			}
		});
	}

	private Map<String, ? extends Session> sessionsOf(UUID account) {
		var repository = this.sessions.getIfAvailable();
		if (repository == null) {
			return Map.of();
		}
		return name(account).<Map<String, ? extends Session>>map(repository::findByPrincipalName).orElse(Map.of());
	}

	private Optional<String> name(UUID account) {
		return this.staff.nameOfAccount(account);
	}

	private static String signIn(Session session) {
		String id = session.getAttribute(ATTRIBUTE);
		return (id != null) ? id : "";
	}

	private OffsetDateTime now() {
		return OffsetDateTime.now(this.clock);
	}

}
