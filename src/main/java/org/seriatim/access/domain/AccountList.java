package org.seriatim.access.domain;

import java.sql.Array;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.Role;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The accounts as an administrator sees them. */
@Component
@Transactional(readOnly = true)
public class AccountList {

	private static final String ROWS = """
			select account.id, staff.name, account.active, account.password is not null as has_password,
				account.password_expired, second_factor.confirmed_at is not null as has_second_factor,
				(select max(expires_at) from invitation where invitation.account_id = account.id
					and used_at is null and withdrawn_at is null and expires_at > :now) as invited_until,
				(select max(at) from sign_in where sign_in.account_id = account.id) as last_sign_in,
				array(select role from account_role where account_role.account_id = account.id) as roles
			from account
			join staff on staff.id = account.staff_id
			left join second_factor on second_factor.account_id = account.id
			""";

	private final JdbcClient database;

	private final Clock clock;

	AccountList(JdbcClient database, Clock clock) {
		this.database = database;
		this.clock = clock;
	}

	/** Where an account stands. */
	public enum State {

		ACTIVE, ONE_TIME, INVITED, WAITING, INACTIVE;

		public String word() {
			return name().toLowerCase(Locale.ROOT).replace('_', '-');
		}

	}

	/**
	 * One account.
	 *
	 * @param invitedUntil until when an invitation works, if one does
	 */
	public record Row(UUID id, String name, Set<Role> roles, State state, boolean secondFactor,
			@Nullable Instant invitedUntil, @Nullable Instant lastSignIn) {

		public boolean isActive() {
			return this.state != State.INACTIVE;
		}

	}

	/** All, by name. */
	public List<Row> all() {
		return this.database.sql(ROWS + "order by staff.name").param("now", now()).query(AccountList::row).list();
	}

	public Optional<Row> one(UUID account) {
		return this.database.sql(ROWS + "where account.id = :account")
			.param("now", now())
			.param("account", account)
			.query(AccountList::row)
			.optional();
	}

	private OffsetDateTime now() {
		return OffsetDateTime.now(this.clock);
	}

	private static Row row(ResultSet row, int number) throws SQLException {
		Instant invitedUntil = instant(row, "invited_until");
		return new Row(row.getObject("id", UUID.class), row.getString("name"), roles(row.getArray("roles")),
				state(row, invitedUntil != null), row.getBoolean("has_second_factor"), invitedUntil,
				instant(row, "last_sign_in"));
	}

	private static State state(ResultSet row, boolean invited) throws SQLException {
		if (!row.getBoolean("active")) {
			return State.INACTIVE;
		}
		if (!row.getBoolean("has_password")) {
			return invited ? State.INVITED : State.WAITING;
		}
		return row.getBoolean("password_expired") ? State.ONE_TIME : State.ACTIVE;
	}

	/** The roles as the database writes them. */
	static EnumSet<Role> roles(Array words) throws SQLException {
		var roles = EnumSet.noneOf(Role.class);
		for (String word : (String[]) words.getArray()) {
			roles.add(Role.valueOf(word.toUpperCase(Locale.ROOT)));
		}
		return roles;
	}

	private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
		var value = row.getObject(column, OffsetDateTime.class);
		return (value != null) ? value.toInstant() : null;
	}

}
