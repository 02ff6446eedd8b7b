package org.seriatim.contactlink.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.InstallationKey;
import org.seriatim.access.StaffId;
import org.seriatim.contactlink.PatientMail;
import org.seriatim.contactlink.domain.OutboxMessage.Problem;
import org.seriatim.contactlink.domain.OutboxMessage.State;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientSummary;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Mail that is to go out, as people see it; {@link SendOutbox} sends it. */
@Service
@Transactional(readOnly = true)
public class Outbox implements PatientMail {

	private static final String MESSAGE = """
			select m.*, coalesce(nullif(concat_ws(', ', p.family_name, p.given_name), ''), p.record_number) as person
			from outbox_message m join patient p on p.id = m.patient_id
			""";

	private final JdbcClient database;

	private final MailChoices choices;

	private final KeepLinkSettings settings;

	private final ObjectProvider<JavaMailSender> server;

	private final InstallationKey key;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	Outbox(JdbcClient database, MailChoices choices, KeepLinkSettings settings, ObjectProvider<JavaMailSender> server,
			InstallationKey key, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.choices = choices;
		this.settings = settings;
		this.server = server;
		this.key = key;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
	}

	/** How many messages stand where. */
	public record Count(State state, int messages) {
	}

	/**
	 * Puts the mail with a link in, unless there is no address or the patient wants none.
	 */
	@Transactional
	void queue(PatientSummary patient, LinkId link) {
		if (patient.email() == null || this.choices.hasOptedOut(patient.id())) {
			return;
		}
		var now = OffsetDateTime.now(this.clock);
		var id = UUID.randomUUID();
		this.database.sql("""
				insert into outbox_message (id, patient_id, purpose, link_id, recipient, state, queued_at, queued_by,
					next_attempt_at)
				values (:id, :patient, 'link', :link, :recipient, 'waiting', :now, :staff, :now)""")
			.param("id", id)
			.param("patient", patient.id().value())
			.param("link", link.value())
			.param("recipient", patient.email().strip())
			.param("now", now)
			.param("staff", this.staff.id().map(StaffId::value).orElse(null))
			.update();
		this.audit.record(Action.CREATED, "outbox_message", id, patient.id().value());
	}

	@Override
	@Transactional
	public boolean remind(PatientId patient, String recipient, UUID appointment, Instant starts) {
		var id = UUID.randomUUID();
		var waiting = this.database
			.sql("""
					insert into outbox_message (id, patient_id, purpose, appointment_id, appointment_starts_at, token_hash,
						recipient, state, queued_at, queued_by, next_attempt_at)
					values (:id, :patient, 'reminder', :appointment, :starts, :hash, :recipient, 'waiting', :now, :staff, :now)
					on conflict (patient_id, appointment_starts_at) where purpose = 'reminder'
						do update set appointment_id = excluded.appointment_id, recipient = excluded.recipient,
							state = 'waiting', queued_at = excluded.queued_at, queued_by = excluded.queued_by,
							next_attempt_at = excluded.next_attempt_at, attempts = 0, problem = null
						where outbox_message.state = 'withdrawn'
					returning id""")
			.param("id", id)
			.param("patient", patient.value())
			.param("appointment", appointment)
			.param("starts", starts.atOffset(ZoneOffset.UTC))
			.param("hash", LinkToken.hash(LinkToken.ofReminder(id, this.key)))
			.param("recipient", recipient.strip())
			.param("now", OffsetDateTime.now(this.clock))
			.param("staff", this.staff.id().map(StaffId::value).orElse(null))
			.query(UUID.class)
			.optional();
		waiting.ifPresent((message) -> this.audit.record(message.equals(id) ? Action.CREATED : Action.CORRECTED,
				"outbox_message", message, patient.value()));
		return waiting.isPresent();
	}

	@Override
	public List<WaitingReminder> waitingReminders() {
		return this.database.sql("""
				select id, patient_id, appointment_id, appointment_starts_at from outbox_message
				where purpose = 'reminder' and state = 'waiting'""")
			.query((row, index) -> new WaitingReminder(row.getObject("id", UUID.class),
					new PatientId(row.getObject("patient_id", UUID.class)), row.getObject("appointment_id", UUID.class),
					row.getObject("appointment_starts_at", OffsetDateTime.class).toInstant()))
			.list();
	}

	@Override
	@Transactional
	public void withdraw(UUID message) {
		this.database.sql("""
				update outbox_message set state = 'withdrawn', next_attempt_at = null, problem = 'not_due'
				where id = :id and state = 'waiting'""").param("id", message).update();
	}

	@Override
	public List<Reminder> remindersOf(UUID appointment) {
		return this.database.sql(MESSAGE + """
				where m.appointment_id = :appointment order by coalesce(m.sent_at, m.queued_at) desc, m.id""")
			.param("appointment", appointment)
			.query((row, index) -> message(row))
			.list()
			.stream()
			.map((message) -> new Reminder(message.id(), Objects.requireNonNull(message.starts()),
					"contactlink.outbox.state." + message.state().word(), message.state() == State.WITHDRAWN,
					message.sentAt()))
			.toList();
	}

	@Override
	public boolean refusesReminders(PatientId patient) {
		return this.choices.refuses(patient, MailPurpose.REMINDER);
	}

	@Override
	public Clinic clinic() {
		var current = this.settings.current();
		return new Clinic(current.clinicName(), current.clinicPhone(),
				this.server.getIfAvailable() != null && current.sender() != null);
	}

	/** Whose reminder it is that says where no more of them are wanted. */
	public Optional<PatientId> patientOfReminder(String token) {
		if (!LinkToken.hasTheForm(token)) {
			return Optional.empty();
		}
		return this.database.sql("select patient_id from outbox_message where token_hash = :hash")
			.param("hash", LinkToken.hash(token))
			.query((row, index) -> new PatientId(row.getObject("patient_id", UUID.class)))
			.optional();
	}

	/** What carries this link and has not gone stays. */
	@Transactional
	void withdraw(LinkId link) {
		this.database.sql("""
				update outbox_message set state = 'withdrawn', next_attempt_at = null, problem = 'link_over'
				where link_id = :link and state = 'waiting'""").param("link", link.value()).update();
	}

	/**
	 * Lets a message that failed wait again, from now on, under the same Message-ID.
	 * @return whether it had failed
	 */
	@Transactional
	public boolean again(UUID id) {
		var patient = this.database.sql("""
				update outbox_message set state = 'waiting', next_attempt_at = :now, attempts = 0, problem = null
				where id = :id and state = 'failed'
				returning patient_id""")
			.param("now", OffsetDateTime.now(this.clock))
			.param("id", id)
			.query(UUID.class)
			.optional();
		patient.ifPresent((of) -> this.audit.record(Action.DECIDED, "outbox_message", id, of, "send again"));
		return patient.isPresent();
	}

	public Optional<OutboxMessage> byId(UUID id) {
		return this.database.sql(MESSAGE + "where m.id = :id")
			.param("id", id)
			.query((row, index) -> message(row))
			.optional();
	}

	/** The latest message to a patient. */
	public Optional<OutboxMessage> latestTo(PatientId patient) {
		return this.database.sql(MESSAGE + "where m.patient_id = :patient order by m.queued_at desc, m.id limit 1")
			.param("patient", patient.value())
			.query((row, index) -> message(row))
			.optional();
	}

	public List<Count> counts() {
		return this.database.sql("select state, count(*) as messages from outbox_message group by state")
			.query((row, index) -> new Count(State.valueOf(row.getString("state").toUpperCase(Locale.ROOT)),
					row.getInt("messages")))
			.list();
	}

	/**
	 * A page of the messages: what failed first, then what waits, then the rest, newest
	 * first.
	 */
	public List<OutboxMessage> page(int from, int most) {
		return this.database
			.sql(MESSAGE
					+ """
							order by array_position(array['failed', 'sending', 'waiting'], m.state) nulls last, m.queued_at desc, m.id
							limit :most offset :from""")
			.param("most", most)
			.param("from", from)
			.query((row, index) -> message(row))
			.list();
	}

	private static OutboxMessage message(ResultSet row) throws SQLException {
		@Nullable String problem = row.getString("problem");
		@Nullable UUID link = row.getObject("link_id", UUID.class);
		return new OutboxMessage(row.getObject("id", UUID.class),
				new PatientId(row.getObject("patient_id", UUID.class)),
				MailPurpose.valueOf(row.getString("purpose").toUpperCase(Locale.ROOT)),
				(link != null) ? new LinkId(link) : null, row.getObject("appointment_id", UUID.class),
				instant(row, "appointment_starts_at"), row.getString("person"), row.getString("recipient"),
				State.valueOf(row.getString("state").toUpperCase(Locale.ROOT)),
				row.getObject("queued_at", OffsetDateTime.class).toInstant(), row.getInt("attempts"),
				instant(row, "next_attempt_at"), instant(row, "sent_at"),
				(problem != null) ? Problem.valueOf(problem.toUpperCase(Locale.ROOT)) : null);
	}

	private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
		@Nullable OffsetDateTime at = row.getObject(column, OffsetDateTime.class);
		return (at != null) ? at.toInstant() : null;
	}

}
