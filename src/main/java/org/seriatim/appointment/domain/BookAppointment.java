package org.seriatim.appointment.domain;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.AppointmentId;
import org.seriatim.appointment.domain.BookingRefused.Why;
import org.seriatim.finding.PatientFindings;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.followup.AppointmentStatus;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Books, moves and cancels, and notes who came. Whoever books holds the patient's advice
 * still and then the practitioner's diary, always in this order, so that a hold that is
 * raised at the same moment is either seen here or sees this booking, and of two who book
 * one time the second finds it taken. The schema refuses a double booking whatever
 * happens here.
 */
@Service
@Transactional
public class BookAppointment {

	private final JdbcClient database;

	private final Diary diary;

	private final KeepHours hours;

	private final CurrentAdvice advice;

	private final PatientFindings findings;

	private final RemindPatients reminders;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	BookAppointment(JdbcClient database, Diary diary, KeepHours hours, CurrentAdvice advice, PatientFindings findings,
			RemindPatients reminders, AuditLog audit, CurrentStaff staff, Clock clock,
			ApplicationEventPublisher events) {
		this.database = database;
		this.diary = diary;
		this.hours = hours;
		this.advice = advice;
		this.findings = findings;
		this.reminders = reminders;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	/** On which days a treatment of the patient may be booked. */
	@Transactional(readOnly = true)
	public TreatmentDays treatmentDays(PatientId patient) {
		return TreatmentDays.of(isHeld(patient), this.advice.of(patient));
	}

	/**
	 * Whether who is signed in may give the reason for a treatment outside its window.
	 */
	public boolean mayGiveClinicalReasons() {
		return this.staff.has(Role.PRACTITIONER) || this.staff.has(Role.CLINIC_LEAD);
	}

	/**
	 * @param minutes how long it takes; what is usual for the purpose where none is given
	 * @param numbingMinutes how long before the start the patient comes, if a
	 * practitioner says so
	 * @param reason why, where it usually would not stand there
	 * @throws BookingRefused if it may not be booked, or not so
	 * @throws TimeTaken if somebody else was booked first
	 */
	public AppointmentId book(PatientId patient, AppointmentPurpose purpose, StaffId practitioner, Instant start,
			@Nullable Integer minutes, @Nullable Integer numbingMinutes, @Nullable String reason) {
		var time = Span.of(start,
				Duration.ofMinutes((minutes != null) ? minutes : this.hours.length(purpose).minutes()));
		var admitted = admit(patient, purpose, practitioner, time, reason, null);
		var kept = keyed(patient, practitioner, start);
		var id = kept.isPresent() ? again(kept.get(), time, purpose, numbingMinutes, admitted, reason)
				: write(practitioner, time,
						() -> this.database
							.sql("""
											insert into appointment (patient_id, practitioner_id, starts_at, ends_at, starts_offset_minutes,
												ends_offset_minutes, purpose, status, numbing_minutes, exceptions, exception_reason,
												window_first, window_last, recorded_at, recorded_by)
											values (:patient, :practitioner, :starts, :ends, :startsOffset, :endsOffset, :purpose, 'booked',
												cast(:numbing as smallint), cast(:exceptions as text[]), :exceptionReason,
									cast(:windowFirst as date), cast(:windowLast as date), :now, cast(:staff as uuid))
											returning id""")
							.param("patient", patient.value())
							.param("practitioner", practitioner.value())
							.param("starts", time.start().atOffset(ZoneOffset.UTC))
							.param("ends", time.end().atOffset(ZoneOffset.UTC))
							.param("startsOffset", offset(time.start()))
							.param("endsOffset", offset(time.end()))
							.param("purpose", purpose.word())
							.param("numbing", numbing(numbingMinutes))
							.param("exceptions", words(admitted.exceptions()))
							.param("exceptionReason", admitted.exceptions().isEmpty() ? null : strip(reason))
							.param("windowFirst", admitted.first())
							.param("windowLast", admitted.last())
							.param("now", OffsetDateTime.now(this.clock))
							.param("staff", writer())
							.query(UUID.class)
							.single());
		written(new AppointmentId(id), patient, kept.isPresent() ? Action.CORRECTED : Action.CREATED);
		return new AppointmentId(id);
	}

	/**
	 * Moves an appointment to another time or practitioner.
	 * @param shown the version that the form showed
	 * @param reason why it is moved, and why it may stand where it is moved to
	 * @return the appointment that holds the time now
	 * @throws BookingRefused if it may not be booked there
	 * @throws TimeTaken if somebody else was booked first
	 * @throws StaleVersion if somebody else changed it in the meantime
	 */
	public AppointmentId move(AppointmentId id, @Nullable Long shown, StaffId practitioner, Instant start,
			@Nullable Integer minutes, String reason) {
		var moved = current(id);
		var admitted = admit(
				moved.patient(), moved.purpose(), practitioner, Span.of(start, (minutes != null)
						? Duration.ofMinutes(minutes) : Duration.between(moved.time().start(), moved.time().end())),
				reason, id);
		lock(id, shown);
		if (moved.status() != AppointmentStatus.BOOKED) {
			throw new BookingRefused(Why.WRONG_STATUS);
		}
		var time = Span.of(start, (minutes != null) ? Duration.ofMinutes(minutes)
				: Duration.between(moved.time().start(), moved.time().end()));
		var kept = keyed(moved.patient(), practitioner, start).filter((other) -> !other.equals(id.value()));
		if (kept.isPresent()) {
			// the key of files: the patient, the practitioner and the start of a
			// cancelled
			// one
			setStatus(id, AppointmentStatus.CANCELLED, reason);
			written(id, moved.patient(), Action.CORRECTED);
			var own = moved.ownNumbing() ? (Integer) moved.numbingMinutes() : null;
			var holds = new AppointmentId(again(kept.get(), time, moved.purpose(), own, admitted, reason));
			written(holds, moved.patient(), Action.CORRECTED);
			return holds;
		}
		write(practitioner, time,
				() -> this.database
					.sql("""
									update appointment
									set practitioner_id = :practitioner, starts_at = :starts, ends_at = :ends,
										starts_offset_minutes = :startsOffset, ends_offset_minutes = :endsOffset, exceptions = cast(:exceptions as text[]),
										exception_reason = :exceptionReason, window_first = cast(:windowFirst as date),
							window_last = cast(:windowLast as date), recorded_at = :now, recorded_by = cast(:staff as uuid),
										correction_reason = :reason, version = version + 1
									where id = :id""")
					.param("id", id.value())
					.param("practitioner", practitioner.value())
					.param("starts", time.start().atOffset(ZoneOffset.UTC))
					.param("ends", time.end().atOffset(ZoneOffset.UTC))
					.param("startsOffset", offset(time.start()))
					.param("endsOffset", offset(time.end()))
					.param("exceptions", words(admitted.exceptions()))
					.param("exceptionReason", admitted.exceptions().isEmpty() ? null : strip(reason))
					.param("windowFirst", admitted.first())
					.param("windowLast", admitted.last())
					.param("now", OffsetDateTime.now(this.clock))
					.param("staff", writer())
					.param("reason", reason.strip())
					.update());
		written(id, moved.patient(), Action.CORRECTED);
		return id;
	}

	/**
	 * Cancels a booked appointment.
	 * @throws StaleVersion if somebody else changed it in the meantime
	 */
	public void cancel(AppointmentId id, @Nullable Long shown, String reason) {
		var cancelled = current(id);
		lock(id, shown);
		if (!cancelled.isHeld()) {
			throw new BookingRefused(Why.WRONG_STATUS);
		}
		setStatus(id, AppointmentStatus.CANCELLED, reason.strip());
		written(id, cancelled.patient(), Action.CORRECTED);
	}

	/**
	 * Notes that the patient came, was seen, or did not come; also the other way round,
	 * for a slip.
	 * @throws BookingRefused if that does not follow on how the appointment stands, or is
	 * yet to come
	 * @throws TimeTaken if the time of one who did not come was given to somebody else
	 * @throws StaleVersion if somebody else changed it in the meantime
	 */
	public void note(AppointmentId id, @Nullable Long shown, AppointmentStatus status) {
		var noted = current(id);
		lock(id, shown);
		if (!follows(noted, status)) {
			throw new BookingRefused(Why.WRONG_STATUS);
		}
		write(noted.practitioner().id(), noted.time(), () -> setStatus(id, status, null));
		written(id, noted.patient(), Action.CORRECTED);
	}

	/** Whether this can be noted of the appointment now. */
	public boolean follows(Appointment appointment, AppointmentStatus status) {
		var now = this.clock.instant();
		var today = LocalDate.ofInstant(now, this.clock.getZone());
		if (dayOf(appointment.time().start()).isAfter(today)) {
			return false;
		}
		return switch (status) {
			case ARRIVED ->
				appointment.status() == AppointmentStatus.BOOKED || appointment.status() == AppointmentStatus.NO_SHOW
						|| appointment.status() == AppointmentStatus.COMPLETED;
			case COMPLETED ->
				appointment.status() == AppointmentStatus.ARRIVED || appointment.status() == AppointmentStatus.BOOKED;
			case NO_SHOW ->
				appointment.status() == AppointmentStatus.BOOKED && appointment.time().start().isBefore(now);
			case BOOKED -> appointment.status() == AppointmentStatus.ARRIVED;
			case CANCELLED -> false;
		};
	}

	/**
	 * Sets how long before the start of this appointment the patient comes.
	 * @param minutes none for what is usual
	 * @throws StaleVersion if somebody else changed it in the meantime
	 */
	public void numb(AppointmentId id, @Nullable Long shown, @Nullable Integer minutes) {
		var changed = current(id);
		lock(id, shown);
		if (!changed.isHeld()) {
			throw new BookingRefused(Why.WRONG_STATUS);
		}
		this.database
			.sql("""
					update appointment
					set numbing_minutes = cast(:minutes as smallint), recorded_at = :now, recorded_by = cast(:staff as uuid),
						correction_reason = null, version = version + 1
					where id = :id""")
			.param("id", id.value())
			.param("minutes", numbing(minutes))
			.param("now", OffsetDateTime.now(this.clock))
			.param("staff", writer())
			.update();
		written(id, changed.patient(), Action.CORRECTED);
	}

	/**
	 * What was found about a booking.
	 *
	 * @param exceptions what is unusual about it
	 * @param first first day of the window that holds, for a treatment that has one
	 * @param last last day of it
	 */
	private record Admitted(Set<Exceptional> exceptions, @Nullable LocalDate first, @Nullable LocalDate last) {
	}

	/** What is unusual about a booking; refuses it where that may not be. */
	private Admitted admit(PatientId patient, AppointmentPurpose purpose, StaffId practitioner, Span time,
			@Nullable String reason, @Nullable AppointmentId except) {
		var standing = this.advice.heldStill(patient);
		this.database.sql("select pg_advisory_xact_lock(hashtextextended(:diary, 0))::text")
			.param("diary", "diary of " + practitioner)
			.query()
			.listOfRows();
		var exceptions = EnumSet.noneOf(Exceptional.class);
		var day = dayOf(time.start());
		var days = (purpose == AppointmentPurpose.TREATMENT) ? TreatmentDays.of(isHeld(patient), standing)
				: TreatmentDays.NONE;
		if (days.onHold()) {
			throw new BookingRefused(Why.ON_HOLD);
		}
		exceptions.addAll(days.exceptionsOn(day));
		if (time.start().isBefore(this.clock.instant())) {
			throw new BookingRefused(Why.IN_THE_PAST);
		}
		if (isTaken("practitioner_id", practitioner.value(), time, except)) {
			throw new TimeTaken(practitioner, time);
		}
		if (isTaken("patient_id", patient.value(), time, except)) {
			throw new BookingRefused(Why.PATIENT_IS_ELSEWHERE);
		}
		exceptions.addAll(outsideHours(practitioner, day, time));
		if (exceptions.stream().anyMatch(Exceptional::isForPractitioners) && !mayGiveClinicalReasons()) {
			throw new BookingRefused(Why.FOR_PRACTITIONERS, exceptions);
		}
		if (!exceptions.isEmpty() && (reason == null || reason.isBlank())) {
			throw new BookingRefused(Why.NO_REASON, exceptions);
		}
		return new Admitted(exceptions, days.first(), days.last());
	}

	private Set<Exceptional> outsideHours(StaffId practitioner, LocalDate day, Span time) {
		var openings = this.diary.openings(day);
		if (openings.isClinicClosedOn(day)) {
			return Set.of(Exceptional.CLINIC_CLOSED);
		}
		if (openings.isAwayOn(practitioner, day)) {
			return Set.of(Exceptional.PRACTITIONER_AWAY);
		}
		// where nobody has entered hours, none can be exceeded
		return openings.areKnownOf(practitioner)
				&& openings.of(practitioner, day).stream().noneMatch((open) -> open.holds(time))
						? Set.of(Exceptional.OUTSIDE_HOURS) : Set.of();
	}

	private boolean isHeld(PatientId patient) {
		return this.findings.of(patient).stream().anyMatch((finding) -> finding.facts().holdsTreatment());
	}

	private boolean isTaken(String column, UUID id, Span time, @Nullable AppointmentId except) {
		return this.database.sql("""
				select exists (select from appointment
				where %s = :id and status in ('booked', 'arrived') and starts_at < :end and ends_at > :start
					and id is distinct from cast(:except as uuid))""".formatted(column))
			.param("id", id)
			.param("start", time.start().atOffset(ZoneOffset.UTC))
			.param("end", time.end().atOffset(ZoneOffset.UTC))
			.param("except", (except != null) ? except.value() : null)
			.query(Boolean.class)
			.single();
	}

	/** The appointment that has the same key in files. */
	private Optional<UUID> keyed(PatientId patient, StaffId practitioner, Instant start) {
		return this.database.sql("""
				select id from appointment
				where patient_id = :patient and practitioner_id = :practitioner and starts_at = :start for update""")
			.param("patient", patient.value())
			.param("practitioner", practitioner.value())
			.param("start", start.atOffset(ZoneOffset.UTC))
			.query(UUID.class)
			.optional();
	}

	/** Books the same time again that was cancelled before: a new version of it. */
	private UUID again(UUID id, Span time, AppointmentPurpose purpose, @Nullable Integer numbingMinutes,
			Admitted admitted, @Nullable String reason) {
		return write(this.diary.byId(new AppointmentId(id)).orElseThrow().practitioner().id(), time, () -> {
			this.database.sql("""
					update appointment
					set ends_at = :ends, ends_offset_minutes = :endsOffset, purpose = :purpose, status = 'booked',
						numbing_minutes = cast(:numbing as smallint), exceptions = cast(:exceptions as text[]),
						exception_reason = :exceptionReason, window_first = cast(:windowFirst as date),
					window_last = cast(:windowLast as date), recorded_at = :now, recorded_by = cast(:staff as uuid),
						correction_reason = :reason, version = version + 1
					where id = :id""")
				.param("id", id)
				.param("ends", time.end().atOffset(ZoneOffset.UTC))
				.param("endsOffset", offset(time.end()))
				.param("purpose", purpose.word())
				.param("numbing", numbing(numbingMinutes))
				.param("exceptions", words(admitted.exceptions()))
				.param("exceptionReason", admitted.exceptions().isEmpty() ? null : strip(reason))
				.param("windowFirst", admitted.first())
				.param("windowLast", admitted.last())
				.param("now", OffsetDateTime.now(this.clock))
				.param("staff", writer())
				.param("reason", strip(reason))
				.update();
			return id;
		});
	}

	private int setStatus(AppointmentId id, AppointmentStatus status, @Nullable String reason) {
		return this.database
			.sql("""
					update appointment
					set status = :status, recorded_at = :now, recorded_by = cast(:staff as uuid), correction_reason = :reason,
						version = version + 1
					where id = :id""")
			.param("id", id.value())
			.param("status", status.word())
			.param("now", OffsetDateTime.now(this.clock))
			.param("staff", writer())
			.param("reason", reason)
			.update();
	}

	private Appointment current(AppointmentId id) {
		return this.diary.byId(id).orElseThrow();
	}

	private void lock(AppointmentId id, @Nullable Long shown) {
		this.database.sql("select id from appointment where id = :id for update")
			.param("id", id.value())
			.query()
			.listOfRows();
		var now = current(id);
		StaleVersion.unlessSame(shown, now.version(), now.recorded());
	}

	private static <T> T write(StaffId practitioner, Span time, java.util.function.Supplier<T> write) {
		try {
			return write.get();
		}
		catch (DataIntegrityViolationException ex) {
			if (String.valueOf(ex.getMessage()).contains("appointment_without_double_booking")) {
				throw new TimeTaken(practitioner, time);
			}
			throw ex;
		}
	}

	private void written(AppointmentId id, PatientId patient, Action action) {
		this.audit.record(action, "appointment", id.value(), patient.value());
		this.reminders.withdrawOver(patient);
		this.events.publishEvent(new PatientRecordChanged(patient));
	}

	private @Nullable Integer numbing(@Nullable Integer minutes) {
		return mayGiveClinicalReasons() ? minutes : null;
	}

	private LocalDate dayOf(Instant time) {
		return LocalDate.ofInstant(time, this.clock.getZone());
	}

	/** The offset of the clinic's clocks, which files carry. */
	private int offset(Instant time) {
		return this.clock.getZone().getRules().getOffset(time).getTotalSeconds() / 60;
	}

	private @Nullable UUID writer() {
		return this.staff.id().map(StaffId::value).orElse(null);
	}

	private static @Nullable String strip(@Nullable String reason) {
		return (reason == null || reason.isBlank()) ? null : reason.strip();
	}

	private static String[] words(Collection<Exceptional> exceptions) {
		return exceptions.stream().map(Exceptional::word).toArray(String[]::new);
	}

}
