package org.seriatim.access.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.StaffId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Emergency access: begun with a reason, for one patient and a limited time, one at a
 * time for an account; what is opened with it is kept, and each use reviewed by somebody
 * else.
 */
@Service
@Transactional
public class EmergencyAccesses {

	private static final String KIND = "emergency_access";

	private final JdbcClient database;

	private final SignInSettings settings;

	private final AuditLog audit;

	private final Clock clock;

	EmergencyAccesses(JdbcClient database, SignInSettings settings, AuditLog audit, Clock clock) {
		this.database = database;
		this.settings = settings;
		this.audit = audit;
		this.clock = clock;
	}

	/**
	 * One use.
	 *
	 * @param endedAt when it ended: by hand, or else when its time was over
	 * @param opened what was opened with it, in order
	 * @param review none while it waits for one
	 */
	public record Use(UUID id, StaffId by, String name, UUID patient, String reason, Instant begunAt, Instant endedAt,
			List<Opening> opened, @Nullable Review review) {

		public Use {
			opened = List.copyOf(opened);
		}

	}

	/** An address of the patient's record. */
	public record Opening(Instant at, String address) {
	}

	/** What a clinic lead found. */
	public record Review(Instant at, String name, boolean justified, @Nullable String note) {
	}

	/** Begins one, in place of one that the account still has. */
	public UUID begin(UUID account, UUID patient, String reason) {
		end(account);
		var now = this.clock.instant();
		var id = this.database.sql("""
				insert into emergency_access (account_id, patient_id, reason, begun_at, ends_at)
				values (:account, :patient, :reason, :now, :ends) returning id""")
			.param("account", account)
			.param("patient", patient)
			.param("reason", reason)
			.param("now", at(now))
			.param("ends", at(now.plus(this.settings.emergency())))
			.query(UUID.class)
			.single();
		// why is said in the use itself, from where an erasure can take it
		this.audit.record(Action.EMERGENCY, KIND, id, patient, "begun");
		return id;
	}

	/** Ends the one that the account has, if it has one. */
	public void end(UUID account) {
		this.database.sql("""
				update emergency_access set ended_at = :now
				where account_id = :account and ended_at is null and ends_at > :now
				returning id, patient_id""")
			.param("now", now())
			.param("account", account)
			.query((row, number) -> List.of(row.getObject("id", UUID.class), row.getObject("patient_id", UUID.class)))
			.list()
			.forEach((ended) -> this.audit.record(Action.EMERGENCY, KIND, ended.get(0), ended.get(1), "ended"));
	}

	/** Keeps what was opened. */
	public void opened(UUID access, String address) {
		this.database.sql("insert into emergency_opening (access_id, at, address) values (:access, :now, :address)")
			.param("access", access)
			.param("now", now())
			.param("address", address)
			.update();
	}

	/** All uses, those that wait for a review first, then the newest. */
	@Transactional(readOnly = true)
	public List<Use> all() {
		var opened = new LinkedHashMap<UUID, List<Opening>>();
		this.database.sql("select access_id, at, address from emergency_opening order by at, id").query((row) -> {
			opened.computeIfAbsent(row.getObject("access_id", UUID.class), (access) -> new ArrayList<>())
				.add(new Opening(instant(row, "at"), row.getString("address")));
		});
		return this.database.sql("""
				select use.id, account.staff_id, staff.name, use.patient_id, use.reason, use.begun_at,
					coalesce(use.ended_at, use.ends_at) as until, use.reviewed_at, reviewer.name as reviewer,
					use.justified, use.note
				from emergency_access use
				join account on account.id = use.account_id
				join staff on staff.id = account.staff_id
				left join staff reviewer on reviewer.id = use.reviewed_by
				order by use.reviewed_at is not null, use.begun_at desc""")
			.query((row, number) -> use(row, opened))
			.list();
	}

	private static Use use(ResultSet row, LinkedHashMap<UUID, List<Opening>> opened) throws SQLException {
		var id = row.getObject("id", UUID.class);
		var review = (row.getObject("reviewed_at") != null) ? new Review(instant(row, "reviewed_at"),
				row.getString("reviewer"), row.getBoolean("justified"), row.getString("note")) : null;
		return new Use(id, new StaffId(row.getObject("staff_id", UUID.class)), row.getString("name"),
				row.getObject("patient_id", UUID.class), row.getString("reason"), instant(row, "begun_at"),
				instant(row, "until"), opened.getOrDefault(id, List.of()), review);
	}

	/** How a review ends. */
	public enum Outcome {

		REVIEWED, OWN, ALREADY, UNKNOWN

	}

	/**
	 * Reviews a use, once; nobody reviews their own.
	 * @param justified whether the reason held
	 */
	public Outcome review(UUID access, StaffId reviewer, boolean justified, @Nullable String note) {
		var user = this.database.sql("""
				select account.staff_id, use.patient_id, use.reviewed_at from emergency_access use
				join account on account.id = use.account_id where use.id = :id for update of use""")
			.param("id", access)
			.query((row, number) -> new Reviewed(new StaffId(row.getObject("staff_id", UUID.class)),
					row.getObject("patient_id", UUID.class), row.getObject("reviewed_at") != null))
			.optional();
		if (user.isEmpty()) {
			return Outcome.UNKNOWN;
		}
		if (user.get().by().equals(reviewer)) {
			return Outcome.OWN;
		}
		if (user.get().done()) {
			return Outcome.ALREADY;
		}
		this.database
			.sql("""
					update emergency_access set reviewed_at = :now, reviewed_by = :reviewer, justified = :justified, note = :note
					where id = :id""")
			.param("now", now())
			.param("reviewer", reviewer.value())
			.param("justified", justified)
			.param("note", note)
			.param("id", access)
			.update();
		this.audit.record(Action.DECIDED, KIND, access, user.get().patient(),
				justified ? "justified" : "not justified");
		return Outcome.REVIEWED;
	}

	private record Reviewed(StaffId by, UUID patient, boolean done) {
	}

	private OffsetDateTime now() {
		return OffsetDateTime.now(this.clock);
	}

	private OffsetDateTime at(Instant instant) {
		return OffsetDateTime.ofInstant(instant, this.clock.getZone());
	}

	private static Instant instant(ResultSet row, String column) throws SQLException {
		return row.getObject(column, OffsetDateTime.class).toInstant();
	}

}
