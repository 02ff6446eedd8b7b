package org.seriatim.access.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.EmergencyAccess;
import org.seriatim.access.StaffId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/**
 * Tells at each request what an account may now, so that a change of roles, a
 * deactivation and the end of a sign-in hold from the next request on. One statement.
 */
@Component
@Transactional(readOnly = true)
public class Standings {

	private final JdbcClient database;

	private final SecondFactorDuty duty;

	private final Clock clock;

	Standings(JdbcClient database, SecondFactorDuty duty, Clock clock) {
		this.database = database;
		this.duty = duty;
		this.clock = clock;
	}

	public Optional<Standing> of(UUID account) {
		return of(account, null);
	}

	/** Empty if there is no such account. */
	public Optional<Standing> of(UUID account, @Nullable UUID signIn) {
		return this.database.sql("""
				select account.id, account.staff_id, staff.name, account.active,
					case when account.one_time_until <= :now then null else account.password end as password,
					account.password_expired, second_factor.confirmed_at is not null as has_second_factor,
					array(select role from account_role where account_role.account_id = account.id) as roles,
					sign_in.at as signed_in_at, emergency.id as emergency_id, emergency.patient_id,
					emergency.ends_at,
					case when exists (select from account_role where account_role.account_id = account.id
							and account_role.role = 'clinic_lead')
						then (select count(*) from emergency_access where reviewed_at is null) else 0 end as reviews
				from account
				join staff on staff.id = account.staff_id
				left join second_factor on second_factor.account_id = account.id
				left join sign_in on sign_in.id = cast(:sign_in as uuid) and sign_in.account_id = account.id
					and sign_in.ended_at is null
				left join lateral (select id, patient_id, ends_at from emergency_access
					where emergency_access.account_id = account.id and ended_at is null and ends_at > :now
					order by begun_at desc limit 1) emergency on true
				where account.id = :account""")
			.param("account", account)
			.param("now", OffsetDateTime.now(this.clock))
			.param("sign_in", (signIn != null) ? signIn.toString() : null)
			.query(this::standing)
			.optional();
	}

	private Standing standing(ResultSet row, int number) throws SQLException {
		var roles = AccountList.roles(row.getArray("roles"));
		boolean hasSecondFactor = row.getBoolean("has_second_factor");
		var person = new SignedIn(row.getObject("id", UUID.class), new StaffId(row.getObject("staff_id", UUID.class)),
				row.getString("name"), roles, row.getBoolean("active"), row.getBoolean("password_expired"),
				hasSecondFactor, this.duty.binds(roles), emergency(row), row.getString("password"));
		var signedInAt = row.getObject("signed_in_at", OffsetDateTime.class);
		return new Standing(person, (signedInAt != null) ? signedInAt.toInstant() : null, row.getInt("reviews"));
	}

	private static @Nullable EmergencyAccess emergency(ResultSet row) throws SQLException {
		var id = row.getObject("emergency_id", UUID.class);
		return (id != null) ? new EmergencyAccess(id, row.getObject("patient_id", UUID.class),
				row.getObject("ends_at", OffsetDateTime.class).toInstant()) : null;
	}

}
