package org.seriatim.photograph.domain;

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
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.Purpose;

/** What a patient allows photographs to be used for, from a day on and until another. */
@Entity
@Table(name = "photograph_consent")
public class Consent {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private ConsentId id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@Enumerated(EnumType.STRING)
	private Purpose purpose;

	private LocalDate givenOn;

	private @Nullable LocalDate withdrawnOn;

	private @Nullable String note;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Consent() {
	}

	@SuppressWarnings("NullAway.Init")
	Consent(PatientId patient, Purpose purpose, LocalDate givenOn, @Nullable String note, Recorded recorded) {
		this.id = ConsentId.next();
		this.patient = patient;
		this.purpose = purpose;
		this.givenOn = givenOn;
		this.note = note;
		this.recorded = recorded;
	}

	void withdraw(LocalDate on, Recorded correction) {
		this.withdrawnOn = on;
		this.recorded = correction;
	}

	public ConsentId id() {
		return this.id;
	}

	public PatientId patient() {
		return this.patient;
	}

	public Purpose purpose() {
		return this.purpose;
	}

	public LocalDate givenOn() {
		return this.givenOn;
	}

	public @Nullable LocalDate withdrawnOn() {
		return this.withdrawnOn;
	}

	/** A consent stands until its withdrawal is recorded, which takes effect at once. */
	public boolean isInForce() {
		return this.withdrawnOn == null;
	}

	public @Nullable String note() {
		return this.note;
	}

	public Recorded recorded() {
		return this.recorded;
	}

	public Long version() {
		return this.version;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Consent consent && this.id.equals(consent.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Consent " + this.id;
	}

}
