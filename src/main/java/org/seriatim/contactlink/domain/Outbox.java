package org.seriatim.contactlink.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffId;
import org.seriatim.contactlink.domain.OutboxMessage.Problem;
import org.seriatim.contactlink.domain.OutboxMessage.State;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientSummary;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Mail that is to go out, as people see it; {@link SendOutbox} sends it. */
@Service
@Transactional(readOnly = true)
public class Outbox {

	private static final String MESSAGE = """
			select m.*, coalesce(nullif(concat_ws(', ', p.family_name, p.given_name), ''), p.record_number) as person
			from outbox_message m join patient p on p.id = m.patient_id
			""";

	private final JdbcClient database;

	private final MailChoices choices;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	Outbox(JdbcClient database, MailChoices choices, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.choices = choices;
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
				insert into outbox_message (id, patient_id, link_id, recipient, state, queued_at, queued_by,
					next_attempt_at)
				values (:id, :patient, :link, :recipient, 'waiting', :now, :staff, :now)""")
			.param("id", id)
			.param("patient", patient.id().value())
			.param("link", link.value())
			.param("recipient", patient.email().strip())
			.param("now", now)
			.param("staff", this.staff.id().map(StaffId::value).orElse(null))
			.update();
		this.audit.record(Action.CREATED, "outbox_message", id, patient.id().value());
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
		return new OutboxMessage(row.getObject("id", UUID.class),
				new PatientId(row.getObject("patient_id", UUID.class)),
				new LinkId(row.getObject("link_id", UUID.class)), row.getString("person"), row.getString("recipient"),
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
