package org.seriatim.finding.domain;

import java.time.LocalDate;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.hibernate.annotations.JdbcTypeCode;
import org.hibernate.type.SqlTypes;
import org.jspecify.annotations.Nullable;
import org.seriatim.finding.ContactId;
import org.seriatim.access.Recorded;
import org.seriatim.finding.Channel;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SessionId;

/** A contact after a session, or the attempt at one. */
@Entity
@Table(name = "contact")
public class Contact {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private ContactId id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "session_id"))
	private SessionId session;

	private LocalDate contactedOn;

	@Enumerated(EnumType.STRING)
	private Channel channel;

	@Enumerated(EnumType.STRING)
	private ContactOutcome outcome;

	private @Nullable Boolean lumpsPresent;

	@JdbcTypeCode(SqlTypes.SMALLINT)
	private @Nullable Integer painNrs;

	private @Nullable String note;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Contact() {
	}

	@SuppressWarnings("NullAway.Init")
	Contact(PatientId patient, SessionId session, ContactDetails details, Recorded recorded) {
		this.id = ContactId.next();
		this.patient = patient;
		this.session = session;
		become(details, recorded);
	}

	/**
	 * Replaces what was recorded by a new version.
	 * @return whether the details say anything new
	 */
	boolean correct(ContactDetails details, Recorded recorded) {
		if (details.equals(details())) {
			return false;
		}
		become(details, recorded);
		return true;
	}

	private void become(ContactDetails details, Recorded recorded) {
		this.contactedOn = details.contactedOn();
		this.channel = details.channel();
		this.outcome = details.outcome();
		this.lumpsPresent = details.lumpsPresent();
		this.painNrs = details.painNrs();
		this.note = details.note();
		this.recorded = recorded;
	}

	public ContactDetails details() {
		return new ContactDetails(this.contactedOn, this.channel, this.outcome, this.lumpsPresent, this.painNrs,
				this.note);
	}

	public ContactId id() {
		return this.id;
	}

	public PatientId patient() {
		return this.patient;
	}

	public SessionId session() {
		return this.session;
	}

	public Recorded recorded() {
		return this.recorded;
	}

	public Long version() {
		return this.version;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Contact contact && this.id.equals(contact.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Contact " + this.id;
	}

}
