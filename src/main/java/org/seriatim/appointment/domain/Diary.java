package org.seriatim.appointment.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.appointment.AppointmentId;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.followup.AppointmentStatus;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Reads the diary: who is booked when, and which times are free. */
@Service
@Transactional(readOnly = true)
public class Diary {

	private static final String APPOINTMENTS = """
			select a.*, p.record_number, p.family_name, p.given_name, p.phone, m.name as practitioner,
				coalesce(a.numbing_minutes, l.numbing_minutes) as numbing
			from appointment a
				join patient p on p.id = a.patient_id
				join staff m on m.id = a.practitioner_id
				join visit_length l on l.purpose = a.purpose\s""";

	private final JdbcClient database;

	private final KeepHours hours;

	private final StaffDirectory staff;

	private final Clock clock;

	Diary(JdbcClient database, KeepHours hours, StaffDirectory staff, Clock clock) {
		this.database = database;
		this.hours = hours;
		this.staff = staff;
		this.clock = clock;
	}

	/**
	 * Whom one can be booked with: everybody who may treat, and who has working hours or
	 * an appointment from this day on; by name.
	 */
	public List<StaffMember> practitioners(LocalDate from) {
		var members = new LinkedHashMap<StaffId, StaffMember>();
		this.staff.holding(Role.PRACTITIONER).forEach((member) -> members.put(member.id(), member));
		this.database.sql("""
				select id, name from staff
				where id in (select practitioner_id from working_hours
						where not taken_back and (valid_until is null or valid_until >= :from))
					or id in (select practitioner_id from appointment where starts_at >= :start)""")
			.param("from", from)
			.param("start", startOf(from))
			.query((row, index) -> new StaffMember(new StaffId(row.getObject("id", UUID.class)), row.getString("name")))
			.list()
			.forEach((member) -> members.put(member.id(), member));
		return members.values().stream().sorted(Comparator.comparing(StaffMember::name)).toList();
	}

	/** When practitioners can be booked from a day on. */
	public Openings openings(LocalDate from) {
		return new Openings(this.hours.hours(from), this.hours.closed(from), this.clock.getZone());
	}

	/** All appointments of these days, whatever their status, by their starts. */
	public List<Appointment> between(LocalDate first, LocalDate last) {
		return this.database.sql(APPOINTMENTS + """
				where a.starts_at >= :from and a.starts_at < :until order by a.starts_at, m.name, p.record_number""")
			.param("from", startOf(first))
			.param("until", startOf(last.plusDays(1)))
			.query(Diary::appointment)
			.list();
	}

	public Optional<Appointment> byId(AppointmentId id) {
		return this.database.sql(APPOINTMENTS + "where a.id = :id")
			.param("id", id.value())
			.query(Diary::appointment)
			.optional();
	}

	/** The next booked times of a patient. */
	public List<Appointment> upcomingOf(PatientId patient) {
		return this.database.sql(APPOINTMENTS + """
				where a.patient_id = :patient and a.status in ('booked', 'arrived') and a.ends_at > :now
				order by a.starts_at""")
			.param("patient", patient.value())
			.param("now", OffsetDateTime.now(this.clock))
			.query(Diary::appointment)
			.list();
	}

	/**
	 * Free times from a first to a last day, the nearest to the target day first.
	 * @param ahead how long before the start the patient has to be there
	 * @param practitioner with whom; with anybody where none is given
	 */
	public List<FreeTime> free(LocalDate first, LocalDate target, LocalDate last, Duration length, Duration ahead,
			@Nullable StaffId practitioner, int most) {
		var today = LocalDate.now(this.clock);
		var from = first.isBefore(today) ? today : first;
		if (last.isBefore(from)) {
			return List.of();
		}
		var wanted = new SlotSearch.Wanted(from, target, last, length, this.clock.instant().plus(ahead), most);
		var whom = practitioners(from).stream()
			.filter((member) -> practitioner == null || member.id().equals(practitioner))
			.toList();
		return SlotSearch.search(wanted, whom, openings(from), busy(from, last));
	}

	/** The next free time of a practitioner from a moment on, within four weeks. */
	public Optional<FreeTime> nextFree(StaffId practitioner, Instant from, Duration length) {
		var day = LocalDate.ofInstant(from, this.clock.getZone());
		var earliest = from.isBefore(this.clock.instant()) ? this.clock.instant() : from;
		var wanted = new SlotSearch.Wanted(day, day, day.plusWeeks(4), length, earliest, 1);
		var whom = this.staff.byId(practitioner).stream().toList();
		return SlotSearch.search(wanted, whom, openings(day), busy(day, day.plusWeeks(4))).stream().findFirst();
	}

	private Map<StaffId, List<Span>> busy(LocalDate first, LocalDate last) {
		Map<StaffId, List<Span>> busy = new HashMap<>();
		this.database.sql("""
				select practitioner_id, starts_at, ends_at from appointment
				where status in ('booked', 'arrived') and starts_at < :until and ends_at > :from""")
			.param("from", startOf(first))
			.param("until", startOf(last.plusDays(1)))
			.query((row) -> {
				busy.computeIfAbsent(new StaffId(row.getObject("practitioner_id", UUID.class)),
						(id) -> new ArrayList<>())
					.add(span(row));
			});
		return busy;
	}

	private OffsetDateTime startOf(LocalDate day) {
		return day.atStartOfDay(this.clock.getZone()).toInstant().atOffset(ZoneOffset.UTC);
	}

	private static Span span(ResultSet row) throws SQLException {
		return new Span(row.getObject("starts_at", OffsetDateTime.class).toInstant(),
				row.getObject("ends_at", OffsetDateTime.class).toInstant());
	}

	private static Appointment appointment(ResultSet row, int index) throws SQLException {
		var by = row.getObject("recorded_by", UUID.class);
		return new Appointment(new AppointmentId(row.getObject("id", UUID.class)),
				new PatientId(row.getObject("patient_id", UUID.class)), row.getString("record_number"),
				row.getString("family_name"), row.getString("given_name"), row.getString("phone"),
				new StaffMember(new StaffId(row.getObject("practitioner_id", UUID.class)),
						row.getString("practitioner")),
				span(row), constant(AppointmentPurpose.class, row.getString("purpose")),
				constant(AppointmentStatus.class, row.getString("status")), row.getInt("numbing"),
				row.getObject("numbing_minutes") != null,
				Arrays.stream((String[]) row.getArray("exceptions").getArray())
					.map((word) -> constant(Exceptional.class, word))
					.toList(),
				row.getString("exception_reason"), row.getLong("version"),
				new Recorded(row.getObject("recorded_at", OffsetDateTime.class).toInstant(),
						(by != null) ? new StaffId(by) : null, row.getString("correction_reason")));
	}

	private static <E extends Enum<E>> E constant(Class<E> type, String word) {
		return Enum.valueOf(type, Objects.requireNonNull(word).toUpperCase(Locale.ROOT));
	}

}
