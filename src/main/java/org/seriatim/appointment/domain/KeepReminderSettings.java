package org.seriatim.appointment.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.ReminderTexts;
import org.seriatim.shell.StaleVersion;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The versions of when and in which words the clinic reminds of appointments. */
@Service
@Transactional(readOnly = true)
public class KeepReminderSettings implements ReminderTexts {

	private final JdbcClient database;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	KeepReminderSettings(JdbcClient database, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
	}

	/** The version in force. */
	public ReminderSettings current() {
		return this.database.sql("select * from reminder_settings order by number desc limit 1")
			.query((row, index) -> settings(row))
			.single();
	}

	/** All versions, newest first, and when and by whom each was saved. */
	public List<Saved> history() {
		return this.database.sql("select * from reminder_settings order by number desc")
			.query((row, index) -> new Saved(settings(row), recorded(row)))
			.list();
	}

	/** A version with when and by whom it was saved. */
	public record Saved(ReminderSettings settings, Recorded recorded) {
	}

	@Override
	@Transactional
	public void set(int days, String subject, String body) {
		save(new ReminderSettings(current().number(), days, subject, body));
	}

	/**
	 * Saves the next version; the ones before stay as they are.
	 * @param settings its number being that of the version that the form started from
	 * @return whether anything is new
	 * @throws StaleVersion if somebody else saved one in the meantime
	 */
	@Transactional
	public boolean save(ReminderSettings settings) {
		// the service may only add rows, which is not enough to lock the table
		this.database.sql("select pg_advisory_xact_lock(hashtext('reminder_settings'))").query((row) -> {
		});
		var newest = history().get(0);
		StaleVersion.unlessSame((long) settings.number(), (long) newest.settings().number(), newest.recorded());
		if (settings.saysTheSameAs(newest.settings())) {
			return false;
		}
		var number = newest.settings().number() + 1;
		this.database.sql("""
				insert into reminder_settings (number, published_at, published_by, days, subject, body)
				values (:number, :now, :by, cast(:days as smallint), :subject, :body)""")
			.param("number", number)
			.param("now", OffsetDateTime.now(this.clock))
			.param("by", this.staff.id().map(StaffId::value).orElse(null))
			.param("days", settings.days())
			.param("subject", settings.subject())
			.param("body", settings.body())
			.update();
		this.audit.record(Action.ADMINISTERED, "reminder_settings", null, null, "version " + number);
		return true;
	}

	private static ReminderSettings settings(ResultSet row) throws SQLException {
		@Nullable Integer days = row.getObject("days", Integer.class);
		return new ReminderSettings(row.getInt("number"), days, row.getString("subject"), row.getString("body"));
	}

	private static Recorded recorded(ResultSet row) throws SQLException {
		@Nullable UUID by = row.getObject("published_by", UUID.class);
		return new Recorded(row.getObject("published_at", OffsetDateTime.class).toInstant(),
				(by != null) ? new StaffId(by) : null, null);
	}

}
