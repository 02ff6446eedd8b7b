package org.seriatim.contactlink.domain;

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
import org.seriatim.shell.StaleVersion;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The versions of what the clinic says to patients who answer by a link. */
@Service
@Transactional(readOnly = true)
public class KeepLinkSettings {

	private final JdbcClient database;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	KeepLinkSettings(JdbcClient database, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
	}

	/** The version in force. */
	public LinkSettings current() {
		return this.database.sql("select * from contact_link_settings order by number desc limit 1")
			.query((row, index) -> settings(row))
			.single();
	}

	/**
	 * All versions before the one in force, newest first, and when and by whom each was
	 * saved.
	 */
	public List<Saved> history() {
		return this.database.sql("select * from contact_link_settings order by number desc")
			.query((row, index) -> new Saved(settings(row), recorded(row)))
			.list();
	}

	/** A version with when and by whom it was saved. */
	public record Saved(LinkSettings settings, Recorded recorded) {
	}

	/**
	 * Saves the next version; the ones before stay as they are.
	 * @param settings its number being that of the version that the form started from
	 * @return whether anything is new
	 * @throws StaleVersion if somebody else saved one in the meantime
	 */
	@Transactional
	public boolean save(LinkSettings settings) {
		// the service may only add rows, which is not enough to lock the table
		this.database.sql("select pg_advisory_xact_lock(hashtext('contact_link_settings'))").query((row) -> {
		});
		var newest = history().get(0);
		StaleVersion.unlessSame((long) settings.number(), (long) newest.settings().number(), newest.recorded());
		if (settings.saysTheSameAs(newest.settings())) {
			return false;
		}
		var number = newest.settings().number() + 1;
		this.database
			.sql("""
					insert into contact_link_settings (number, published_at, published_by, clinic_name, clinic_phone,
						emergency_text, emergency_phone, reading_times, base_address, days, sender, subject, body)
					values (:number, :now, :by, :clinic, :phone, :emergency, :emergencyPhone, :reading, :base, :days, :sender,
						:subject, :body)""")
			.param("number", number)
			.param("now", OffsetDateTime.now(this.clock))
			.param("by", this.staff.id().map(StaffId::value).orElse(null))
			.param("clinic", settings.clinicName())
			.param("phone", settings.clinicPhone())
			.param("emergency", settings.emergencyText())
			.param("emergencyPhone", settings.emergencyPhone())
			.param("reading", settings.readingTimes())
			.param("base", settings.baseAddress())
			.param("days", settings.days())
			.param("sender", settings.sender())
			.param("subject", settings.subject())
			.param("body", settings.body())
			.update();
		this.audit.record(Action.ADMINISTERED, "contact_link_settings", null, null, "version " + number);
		return true;
	}

	private static LinkSettings settings(ResultSet row) throws SQLException {
		return new LinkSettings(row.getInt("number"), row.getString("clinic_name"), row.getString("clinic_phone"),
				row.getString("emergency_text"), row.getString("emergency_phone"), row.getString("reading_times"),
				row.getString("base_address"), row.getInt("days"), row.getString("sender"), row.getString("subject"),
				row.getString("body"));
	}

	private static Recorded recorded(ResultSet row) throws SQLException {
		@Nullable UUID by = row.getObject("published_by", UUID.class);
		return new Recorded(row.getObject("published_at", OffsetDateTime.class).toInstant(),
				(by != null) ? new StaffId(by) : null, null);
	}

}
