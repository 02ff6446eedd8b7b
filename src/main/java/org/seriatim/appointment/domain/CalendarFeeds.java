package org.seriatim.appointment.domain;

import java.security.SecureRandom;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.Base64;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.seriatim.access.AuditLog;
import org.seriatim.access.Sha256;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.domain.CalendarFile.Event;
import org.seriatim.followup.AppointmentStatus;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Practitioners' calendars under addresses that only they know. An address is 256 random
 * bits, of which the SHA-256 is kept; it reads appointments with the record number and
 * nothing else, and ends with the account, with the role, and when its owner says so.
 */
@Service
@Transactional
public class CalendarFeeds {

	private static final int SECRET_BYTES = 32;

	/** What a calendar shows of the past, in days. */
	private static final int DAYS_BACK = 30;

	/** And of the days to come. */
	private static final int DAYS_AHEAD = 366;

	private final JdbcClient database;

	private final Diary diary;

	private final CalendarSettings settings;

	private final AuditLog audit;

	private final Clock clock;

	private final MessageSource messages;

	private final SecureRandom random = new SecureRandom();

	CalendarFeeds(JdbcClient database, Diary diary, CalendarSettings settings, AuditLog audit, Clock clock,
			MessageSource messages) {
		this.database = database;
		this.diary = diary;
		this.settings = settings;
		this.audit = audit;
		this.clock = clock;
		this.messages = messages;
	}

	/** When the address in use was made; empty where there is none. */
	@Transactional(readOnly = true)
	public Optional<Instant> madeAt(StaffId practitioner) {
		return this.database.sql("select created_at from calendar_feed where staff_id = :staff and revoked_at is null")
			.param("staff", practitioner.value())
			.query((row, index) -> row.getObject(1, OffsetDateTime.class).toInstant())
			.optional();
	}

	/**
	 * Makes an address; the one before no longer works. What is returned is shown once.
	 */
	public String make(StaffId practitioner) {
		revoke(practitioner);
		var secret = new byte[SECRET_BYTES];
		this.random.nextBytes(secret);
		var token = Base64.getUrlEncoder().withoutPadding().encodeToString(secret);
		var id = this.database
			.sql("""
					insert into calendar_feed (staff_id, token_hash, created_at) values (:staff, :hash, :now) returning id""")
			.param("staff", practitioner.value())
			.param("hash", Sha256.of(token))
			.param("now", OffsetDateTime.now(this.clock))
			.query(UUID.class)
			.single();
		this.audit.record(AuditLog.Action.ADMINISTERED, "calendar_feed", id, null, "made");
		return token;
	}

	/** Ends the address in use, if there is one. */
	public void revoke(StaffId practitioner) {
		this.database
			.sql("""
					update calendar_feed set revoked_at = :now where staff_id = :staff and revoked_at is null returning id""")
			.param("now", OffsetDateTime.now(this.clock))
			.param("staff", practitioner.value())
			.query(UUID.class)
			.optional()
			.ifPresent((id) -> this.audit.record(AuditLog.Action.ADMINISTERED, "calendar_feed", id, null, "revoked"));
	}

	/**
	 * The calendar under an address.
	 * @return empty for an address that is none, was revoked, or is of somebody whose
	 * account is closed or no practitioner's any more
	 */
	@Transactional(readOnly = true)
	public Optional<String> under(String token) {
		return this.database.sql("""
				select f.staff_id from calendar_feed f
					join account a on a.staff_id = f.staff_id and a.active
					join account_role r on r.account_id = a.id and r.role = 'practitioner'
				where f.token_hash = :hash and f.revoked_at is null""")
			.param("hash", Sha256.of(token))
			.query((row, index) -> new StaffId(row.getObject(1, UUID.class)))
			.optional()
			.map(this::of);
	}

	private String of(StaffId practitioner) {
		var today = LocalDate.now(this.clock);
		return CalendarFile.of(this.diary.between(today.minusDays(DAYS_BACK), today.plusDays(DAYS_AHEAD))
			.stream()
			.filter((one) -> one.practitioner().id().equals(practitioner)
					&& (one.isHeld() || one.status() == AppointmentStatus.COMPLETED))
			.map((one) -> new Event(one.id() + "@seriatim", one.version(), one.recorded().recordedAt(), one.time(),
					say("appointment.calendar.title", one.recordNumber()), null, null))
			.toList());
	}

	/**
	 * One appointment for the patient's own calendar, from the time to come on: nothing
	 * about anybody's health, and no name.
	 */
	public String forPatient(Appointment appointment) {
		var time = new Span(appointment.arrival(), appointment.time().end());
		return CalendarFile.of(List
			.of(new Event(appointment.id() + "@seriatim", appointment.version(), appointment.recorded().recordedAt(),
					time, say("appointment.calendar.own-title"), this.settings.address(), null)));
	}

	private String say(String key, Object... arguments) {
		return this.messages.getMessage(key, arguments, LocaleContextHolder.getLocale());
	}

}
