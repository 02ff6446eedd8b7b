package org.seriatim.appointment.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.contactlink.AppointmentReminders;
import org.seriatim.contactlink.MailText;
import org.seriatim.contactlink.PatientMail;
import org.seriatim.contactlink.PatientMail.Reminder;
import org.seriatim.contactlink.PatientMail.WaitingReminder;
import org.seriatim.followup.AppointmentStatus;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;

/**
 * Reminds patients of booked appointments by mail, so many days before as the clinic has
 * set, from nine in the morning on by the clinic's clocks. Who is due is read from the
 * diary each time, so that whatever moves or cancels an appointment, an import too, is
 * followed; that nobody gets two for one time is held by the outbox.
 */
@Service
public class RemindPatients implements AppointmentReminders {

	/** When reminders of a day go, by the clinic's clocks. */
	static final LocalTime FROM = LocalTime.of(9, 0);

	/** Later than this before the time to arrive, a mail may not be read in time. */
	static final Duration TOO_LATE = Duration.ofHours(2);

	/**
	 * Booked appointments of patients who have an address and want to be reminded. A
	 * treatment on hold is for the desk to cancel first.
	 */
	private static final String BOOKED = """
			select a.id, a.patient_id, a.starts_at, coalesce(a.numbing_minutes, l.numbing_minutes) as numbing, p.email,
				exists (select from outbox_message m where m.patient_id = a.patient_id
					and m.appointment_starts_at = a.starts_at and m.state <> 'withdrawn') as told
			from appointment a
				join patient p on p.id = a.patient_id
				join visit_length l on l.purpose = a.purpose
			where a.status = 'booked' and a.starts_at > :now and a.starts_at < :until and p.email is not null
				and not exists (select from mail_choice c
					where c.patient_id = a.patient_id and (c.opted_out or c.no_reminders))
				and not (a.purpose = 'treatment' and (
					exists (select from advice
						where patient_id = a.patient_id and replaced_at is null and status = 'hold')
					or exists (select from finding
						where patient_id = a.patient_id and closed_on is null
							and (serious or grade >= 3 or kind = any(string_to_array(:holding, ','))))))
				and (cast(:appointment as uuid) is null or a.id = cast(:appointment as uuid))
			order by a.starts_at, a.id""";

	private final JdbcClient database;

	private final PatientMail mail;

	private final KeepReminderSettings settings;

	private final PatientDirectory patients;

	private final Clock clock;

	RemindPatients(JdbcClient database, PatientMail mail, KeepReminderSettings settings, PatientDirectory patients,
			Clock clock) {
		this.database = database;
		this.mail = mail;
		this.settings = settings;
		this.patients = patients;
		this.clock = clock;
	}

	/**
	 * An appointment to remind of now.
	 *
	 * @param told whether that was done, or waits to be
	 */
	private record Due(UUID appointment, PatientId patient, Instant starts, Instant arrival, String recipient,
			boolean told) {

		Time time() {
			return new Time(this.appointment, this.starts);
		}

	}

	/** What a reminder is about. */
	private record Time(UUID appointment, Instant starts) {
	}

	/**
	 * What becomes of the reminder of an appointment.
	 *
	 * @param key message key
	 * @param at when it goes or went
	 * @param message its id in the outbox, if it is there
	 * @param toldOf another time that the patient was reminded of last; the patient may
	 * still go by it
	 */
	public record Outlook(String key, @Nullable Instant at, @Nullable UUID message, @Nullable Instant toldOf) {
	}

	@Override
	public void bringUpToDate() {
		var due = due(this.settings.current(), null);
		withdrawOthers(this.mail.waitingReminders(), due);
		due.stream()
			.filter((one) -> !one.told())
			.forEach((one) -> this.mail.remind(one.patient(), one.recipient(), one.appointment(), one.starts()));
	}

	/**
	 * Takes out what waits for a patient and no longer holds, with a change of the diary.
	 */
	void withdrawOver(PatientId patient) {
		var waiting = this.mail.waitingReminders().stream().filter((one) -> one.patient().equals(patient)).toList();
		if (!waiting.isEmpty()) {
			withdrawOthers(waiting, due(this.settings.current(), null));
		}
	}

	private void withdrawOthers(List<WaitingReminder> waiting, List<Due> due) {
		Set<Time> hold = due.stream().map(Due::time).collect(Collectors.toSet());
		waiting.stream()
			.filter((one) -> !hold.contains(new Time(one.appointment(), one.starts())))
			.forEach((one) -> this.mail.withdraw(one.message()));
	}

	@Override
	public Optional<MailText> textOf(UUID appointment, Instant starts) {
		var current = this.settings.current();
		return due(current, appointment).stream()
			.filter((one) -> one.starts().equals(starts))
			.findFirst()
			.map((one) -> current.write(LocalDate.ofInstant(one.arrival(), this.clock.getZone()),
					LocalTime.ofInstant(one.arrival(), this.clock.getZone()), this.mail.clinic()));
	}

	/** What becomes of the reminder; empty for an appointment that needs none. */
	public Optional<Outlook> outlook(Appointment appointment) {
		var reminders = this.mail.remindersOf(appointment.id().value());
		var start = appointment.time().start();
		var toldOf = reminders.stream()
			.filter((one) -> one.sentAt() != null)
			.findFirst()
			.map(Reminder::starts)
			.filter((told) -> !told.equals(start))
			.orElse(null);
		var own = reminders.stream().filter((one) -> one.starts().equals(start) && !one.withdrawn()).findFirst();
		if (own.isPresent()) {
			return Optional.of(new Outlook(own.get().state(), own.get().sentAt(), own.get().message(), toldOf));
		}
		if (appointment.status() != AppointmentStatus.BOOKED || !start.isAfter(this.clock.instant())) {
			return Optional.empty();
		}
		var days = this.settings.current().days();
		if (days != null && goesAt(start, days).isAfter(this.clock.instant())) {
			return Optional.of(new Outlook(obstacle(appointment).orElse("appointment.reminder.due"),
					goesAt(start, days), null, toldOf));
		}
		return Optional
			.of(new Outlook(
					(days == null) ? "appointment.reminder.off"
							: obstacle(appointment).orElse(isTooLate(appointment.arrival())
									? "appointment.reminder.too-late" : "appointment.reminder.soon"),
					null, null, toldOf));
	}

	private Optional<String> obstacle(Appointment appointment) {
		if (this.mail.refusesReminders(appointment.patient())) {
			return Optional.of("appointment.reminder.refused");
		}
		return (this.patients.requireExisting(appointment.patient()).email() == null)
				? Optional.of("appointment.reminder.no-address") : Optional.empty();
	}

	private List<Due> due(ReminderSettings current, @Nullable UUID appointment) {
		var days = current.days();
		if (days == null) {
			return List.of();
		}
		var now = OffsetDateTime.now(this.clock);
		return this.database.sql(BOOKED)
			.param("now", now)
			// the day itself, and an hour that the clocks may give
			.param("until", now.plusDays(days + 2L))
			.param("holding", DayList.holdingKinds())
			.param("appointment", appointment)
			.query((row, index) -> due(row))
			.list()
			.stream()
			.filter((one) -> !goesAt(one.starts(), days).isAfter(this.clock.instant()) && !isTooLate(one.arrival()))
			.toList();
	}

	/**
	 * So many days before by the calendar, not by hours: a day on which the clocks are
	 * changed counts as one.
	 */
	private Instant goesAt(Instant starts, int days) {
		var day = LocalDate.ofInstant(starts, this.clock.getZone()).minusDays(days);
		return ClockTime.of(day.atTime(FROM), this.clock.getZone()).moment();
	}

	private boolean isTooLate(Instant arrival) {
		return !this.clock.instant().isBefore(arrival.minus(TOO_LATE));
	}

	private static Due due(ResultSet row) throws SQLException {
		var starts = row.getObject("starts_at", OffsetDateTime.class).toInstant();
		return new Due(row.getObject("id", UUID.class), new PatientId(row.getObject("patient_id", UUID.class)), starts,
				starts.minus(Duration.ofMinutes(row.getInt("numbing"))), Objects.requireNonNull(row.getString("email")),
				row.getBoolean("told"));
	}

}
