package org.seriatim.appointment.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Supplier;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.WorkingWeek;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.shell.StaleVersion;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What the diary stands on: working hours, closed days, lengths of visits. Each change is
 * a new version and is in the audit log. None moves an appointment: what stands outside
 * the hours since then is shown where it stands.
 */
@Service
@Transactional
public class KeepHours implements WorkingWeek {

	private final JdbcClient database;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	KeepHours(JdbcClient database, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
	}

	/** All working hours that hold on this day or later, by weekday and time. */
	@Transactional(readOnly = true)
	public List<WorkingHours> hours(LocalDate from) {
		return this.database.sql("""
				select id, practitioner_id, weekday, starts, ends, valid_from, valid_until, version from working_hours
				where not taken_back and (valid_until is null or valid_until >= :from)
				order by weekday, starts, valid_from""").param("from", from).query(KeepHours::hours).list();
	}

	@Transactional(readOnly = true)
	public Optional<WorkingHours> hours(UUID id) {
		return this.database.sql("""
				select id, practitioner_id, weekday, starts, ends, valid_from, valid_until, version from working_hours
				where id = :id and not taken_back""").param("id", id).query(KeepHours::hours).optional();
	}

	@Override
	public void enter(StaffId practitioner, DayOfWeek weekday, LocalTime starts, LocalTime ends, LocalDate from) {
		enter(practitioner, weekday, starts, ends, from, null);
	}

	/**
	 * @throws HoursOverlap if the practitioner has hours at that time already
	 */
	public void enter(StaffId practitioner, DayOfWeek weekday, LocalTime starts, LocalTime ends, LocalDate from,
			@Nullable LocalDate until) {
		var id = apart(() -> this.database
			.sql("""
					insert into working_hours (practitioner_id, weekday, starts, ends, valid_from, valid_until, recorded_at,
						recorded_by)
					values (:practitioner, :weekday, :starts, :ends, :from, cast(:until as date), :now, cast(:staff as uuid))
					returning id""")
			.param("practitioner", practitioner.value())
			.param("weekday", weekday.getValue())
			.param("starts", starts)
			.param("ends", ends)
			.param("from", from)
			.param("until", until)
			.param("now", now())
			.param("staff", writer())
			.query(UUID.class)
			.single());
		this.audit.record(Action.CREATED, "working_hours", id, null);
	}

	/**
	 * @param shown the version that the form showed
	 * @throws HoursOverlap if the practitioner has other hours at that time
	 * @throws StaleVersion if somebody else changed them in the meantime
	 */
	public void change(UUID id, @Nullable Long shown, DayOfWeek weekday, LocalTime starts, LocalTime ends,
			LocalDate from, @Nullable LocalDate until) {
		requireVersion("working_hours", id, shown);
		apart(() -> this.database.sql("""
				update working_hours
				set weekday = :weekday, starts = :starts, ends = :ends, valid_from = :from,
					valid_until = cast(:until as date), recorded_at = :now, recorded_by = cast(:staff as uuid),
					version = version + 1
				where id = :id""")
			.param("id", id)
			.param("weekday", weekday.getValue())
			.param("starts", starts)
			.param("ends", ends)
			.param("from", from)
			.param("until", until)
			.param("now", now())
			.param("staff", writer())
			.update());
		this.audit.record(Action.CORRECTED, "working_hours", id, null);
	}

	/** Takes hours back that were entered by mistake. */
	public void takeBackHours(UUID id, @Nullable Long shown) {
		takeBack("working_hours", id, shown);
	}

	/** The days on which the clinic is closed or somebody is away, from a day on. */
	@Transactional(readOnly = true)
	public List<ClosedDays> closed(LocalDate from) {
		return this.database.sql("""
				select id, practitioner_id, first_day, last_day, note, version from closed_days
				where not taken_back and last_day >= :from
				order by first_day, last_day, id""").param("from", from).query(KeepHours::closed).list();
	}

	/** Closes the clinic, or notes that a practitioner is away. */
	public void close(@Nullable StaffId practitioner, LocalDate first, LocalDate last, @Nullable String note) {
		var id = this.database.sql("""
				insert into closed_days (practitioner_id, first_day, last_day, note, recorded_at, recorded_by)
				values (cast(:practitioner as uuid), :first, :last, :note, :now, cast(:staff as uuid)) returning id""")
			.param("practitioner", (practitioner != null) ? practitioner.value() : null)
			.param("first", first)
			.param("last", last)
			.param("note", note)
			.param("now", now())
			.param("staff", writer())
			.query(UUID.class)
			.single();
		this.audit.record(Action.CREATED, "closed_days", id, null);
	}

	/** Opens days again that were closed. */
	public void takeBackClosed(UUID id, @Nullable Long shown) {
		takeBack("closed_days", id, shown);
	}

	/** The lengths of visits in the order of their purposes. */
	@Transactional(readOnly = true)
	public List<VisitLength> lengths() {
		return this.database.sql("select id, purpose, minutes, numbing_minutes, version from visit_length")
			.query(KeepHours::length)
			.list()
			.stream()
			.sorted(java.util.Comparator.comparing(VisitLength::purpose))
			.toList();
	}

	@Transactional(readOnly = true)
	public VisitLength length(AppointmentPurpose purpose) {
		return this.database.sql("""
				select id, purpose, minutes, numbing_minutes, version from visit_length where purpose = :purpose""")
			.param("purpose", purpose.word())
			.query(KeepHours::length)
			.single();
	}

	/**
	 * @param shown the version that the form showed
	 * @throws StaleVersion if somebody else changed it in the meantime
	 */
	public void change(AppointmentPurpose purpose, @Nullable Long shown, int minutes, int numbingMinutes) {
		var id = length(purpose).id();
		requireVersion("visit_length", id, shown);
		this.database.sql("""
				update visit_length
				set minutes = :minutes, numbing_minutes = :numbing, recorded_at = :now,
					recorded_by = cast(:staff as uuid), version = version + 1
				where id = :id""")
			.param("id", id)
			.param("minutes", minutes)
			.param("numbing", numbingMinutes)
			.param("now", now())
			.param("staff", writer())
			.update();
		this.audit.record(Action.CORRECTED, "visit_length", id, null);
	}

	private void takeBack(String table, UUID id, @Nullable Long shown) {
		requireVersion(table, id, shown);
		this.database.sql("""
				update %s set taken_back = true, recorded_at = :now, recorded_by = cast(:staff as uuid),
					version = version + 1
				where id = :id""".formatted(table))
			.param("id", id)
			.param("now", now())
			.param("staff", writer())
			.update();
		this.audit.record(Action.CORRECTED, table, id, null, "taken back");
	}

	private void requireVersion(String table, UUID id, @Nullable Long shown) {
		this.database.sql("select version, recorded_at, recorded_by from %s where id = :id for update".formatted(table))
			.param("id", id)
			.query((row) -> {
				var by = row.getObject("recorded_by", UUID.class);
				StaleVersion.unlessSame(shown, row.getLong("version"),
						new Recorded(row.getObject("recorded_at", OffsetDateTime.class).toInstant(),
								(by != null) ? new StaffId(by) : null, null));
			});
	}

	private static <T> T apart(Supplier<T> write) {
		try {
			return write.get();
		}
		catch (DataIntegrityViolationException ex) {
			if (String.valueOf(ex.getMessage()).contains("working_hours_overlap")) {
				throw new HoursOverlap();
			}
			throw ex;
		}
	}

	private OffsetDateTime now() {
		return OffsetDateTime.now(this.clock);
	}

	/** Nobody where the service sets itself up. */
	private @Nullable UUID writer() {
		return this.staff.id().map(StaffId::value).orElse(null);
	}

	private static WorkingHours hours(ResultSet row, int index) throws SQLException {
		return new WorkingHours(row.getObject("id", UUID.class),
				new StaffId(row.getObject("practitioner_id", UUID.class)), DayOfWeek.of(row.getInt("weekday")),
				row.getObject("starts", LocalTime.class), row.getObject("ends", LocalTime.class),
				row.getObject("valid_from", LocalDate.class), row.getObject("valid_until", LocalDate.class),
				row.getLong("version"));
	}

	private static ClosedDays closed(ResultSet row, int index) throws SQLException {
		var practitioner = row.getObject("practitioner_id", UUID.class);
		return new ClosedDays(row.getObject("id", UUID.class),
				(practitioner != null) ? new StaffId(practitioner) : null, row.getObject("first_day", LocalDate.class),
				row.getObject("last_day", LocalDate.class), row.getString("note"), row.getLong("version"));
	}

	private static VisitLength length(ResultSet row, int index) throws SQLException {
		return new VisitLength(row.getObject("id", UUID.class),
				AppointmentPurpose.valueOf(row.getString("purpose").toUpperCase(java.util.Locale.ROOT)),
				row.getInt("minutes"), row.getInt("numbing_minutes"), row.getLong("version"));
	}

}
