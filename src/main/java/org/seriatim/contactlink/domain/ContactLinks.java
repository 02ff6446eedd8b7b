package org.seriatim.contactlink.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.Comparator;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.InstallationKey;
import org.seriatim.access.StaffId;
import org.seriatim.contactlink.domain.NoLinkPossible.Reason;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Makes links, finds them by their secrets, and takes them back. A patient has one at a
 * time; it is about the last session and over when there is a later one.
 */
@Service
@Transactional(readOnly = true)
public class ContactLinks {

	private static final String LINK = """
			select l.*, (select count(*) from link_answer a where a.link_id = l.id) as answers from contact_link l
			""";

	private final JdbcClient database;

	private final KeepLinkSettings settings;

	private final TreatmentHistory treatment;

	private final PatientDirectory patients;

	private final Outbox outbox;

	private final InstallationKey key;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	ContactLinks(JdbcClient database, KeepLinkSettings settings, TreatmentHistory treatment, PatientDirectory patients,
			Outbox outbox, InstallationKey key, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.settings = settings;
		this.treatment = treatment;
		this.patients = patients;
		this.outbox = outbox;
		this.key = key;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
	}

	/** The patient's last session up to today. */
	public Optional<RecordedSession> lastSession(PatientId patient) {
		var today = LocalDate.now(this.clock);
		return this.treatment.sessionsOf(patient)
			.stream()
			.filter((session) -> !session.treatedOn().isAfter(today))
			.max(Comparator.comparing(RecordedSession::treatedOn).thenComparing(RecordedSession::number));
	}

	/**
	 * Makes a link for the patient's last session, which takes the place of an earlier
	 * one, and puts it into the outbox where the patient can and wants to get mail.
	 * @throws NoLinkPossible if the clinic is not set up for it, or there is no session
	 */
	@Transactional
	public PatientLink make(PatientId patient) {
		var known = this.patients.requireExisting(patient);
		var current = this.settings.current();
		if (!current.missing().isEmpty()) {
			throw new NoLinkPossible(Reason.NOT_SET_UP);
		}
		var session = lastSession(patient).orElseThrow(() -> new NoLinkPossible(Reason.NO_SESSION));
		// two desks at once make one after the other
		this.database.sql("select id from patient where id = :patient for no key update")
			.param("patient", patient.value())
			.query(UUID.class)
			.single();
		end(patient, "superseded");
		var link = UUID.randomUUID();
		this.database.sql("""
				insert into contact_link (id, patient_id, session_id, token_hash, made_at, made_by, expires_at)
				values (:id, :patient, :session, :hash, :now, :staff, :expires)""")
			.param("id", link)
			.param("patient", patient.value())
			.param("session", session.id().value())
			.param("hash", LinkToken.hash(LinkToken.of(link, this.key)))
			.param("now", now())
			.param("staff", this.staff.id().map(StaffId::value).orElse(null))
			.param("expires", now().plusDays(current.days()))
			.update();
		this.audit.record(Action.CREATED, "contact_link", link, patient.value());
		this.outbox.queue(known, new LinkId(link));
		return current(patient).orElseThrow();
	}

	/** The patient's link that was not taken back, whether or not it still opens. */
	public Optional<PatientLink> current(PatientId patient) {
		return this.database.sql(LINK + "where l.patient_id = :patient and l.ended_at is null")
			.param("patient", patient.value())
			.query((row, index) -> link(row))
			.optional();
	}

	/** Takes the patient's link back, if there is one. */
	@Transactional
	public boolean revoke(PatientId patient) {
		return end(patient, "revoked");
	}

	/** The address by which the patient opens it. */
	public String addressOf(LinkId link) {
		return this.settings.current().addressOf(LinkToken.of(link.value(), this.key));
	}

	/**
	 * Finds a link by its secret, whether or not it still opens. Changes nothing.
	 */
	public Optional<PatientLink> bySecret(String token) {
		if (!LinkToken.hasTheForm(token)) {
			return Optional.empty();
		}
		return this.database.sql(LINK + "where l.token_hash = :hash")
			.param("hash", LinkToken.hash(token))
			.query((row, index) -> link(row))
			.optional();
	}

	/** Finds a link by its id, whether or not it still opens. */
	public Optional<PatientLink> byId(LinkId id) {
		return this.database.sql(LINK + "where l.id = :id")
			.param("id", id.value())
			.query((row, index) -> link(row))
			.optional();
	}

	private boolean end(PatientId patient, String why) {
		var ended = this.database.sql("""
				update contact_link set ended_at = :now, ended_by = :staff, ended_why = :why
				where patient_id = :patient and ended_at is null
				returning id""")
			.param("now", now())
			.param("staff", this.staff.id().map(StaffId::value).orElse(null))
			.param("why", why)
			.param("patient", patient.value())
			.query(UUID.class)
			.list();
		for (var link : ended) {
			this.audit.record(Action.CORRECTED, "contact_link", link, patient.value(), why);
			this.outbox.withdraw(new LinkId(link));
		}
		return !ended.isEmpty();
	}

	private PatientLink link(ResultSet row) throws SQLException {
		var patient = new PatientId(row.getObject("patient_id", UUID.class));
		var session = new SessionId(row.getObject("session_id", UUID.class));
		var expires = row.getObject("expires_at", OffsetDateTime.class).toInstant();
		@Nullable OffsetDateTime ended = row.getObject("ended_at", OffsetDateTime.class);
		@Nullable UUID by = row.getObject("made_by", UUID.class);
		return new PatientLink(new LinkId(row.getObject("id", UUID.class)), patient, session,
				row.getObject("made_at", OffsetDateTime.class).toInstant(), (by != null) ? new StaffId(by) : null,
				expires, (ended != null) ? ended.toInstant() : null, row.getInt("answers"),
				ended == null && this.clock.instant().isBefore(expires) && isOfLastSession(patient, session));
	}

	private boolean isOfLastSession(PatientId patient, SessionId session) {
		return lastSession(patient).filter((last) -> last.id().equals(session)).isPresent();
	}

	private OffsetDateTime now() {
		return OffsetDateTime.now(this.clock);
	}

}
