package org.seriatim.patient.domain;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.patient.PatientId;

/**
 * The person. An entry is corrected by a new version, and its record number, once given,
 * belongs to it for good.
 */
@Entity
@Table(name = "patient")
public class Patient {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private PatientId id;

	@Embedded
	private Identity identity;

	@Embedded
	private @Nullable ContactDetails contact;

	@Embedded
	private @Nullable SkinProfile skin;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Patient() {
	}

	@SuppressWarnings("NullAway.Init")
	Patient(Identity identity, ContactDetails contact, SkinProfile skin, Recorded recorded) {
		this.id = PatientId.next();
		this.identity = identity;
		this.contact = contact;
		this.skin = skin;
		this.recorded = recorded;
	}

	/** Replaces what is known by a new version. */
	void correct(Identity identity, ContactDetails contact, SkinProfile skin, Recorded recorded) {
		this.identity = identity;
		this.contact = contact;
		this.skin = skin;
		this.recorded = recorded;
	}

	public PatientId id() {
		return this.id;
	}

	public Identity identity() {
		return this.identity;
	}

	public ContactDetails contact() {
		// a value of which nothing is known comes back from the database as null
		return (this.contact != null) ? this.contact : ContactDetails.NONE;
	}

	public SkinProfile skin() {
		return (this.skin != null) ? this.skin : SkinProfile.UNKNOWN;
	}

	public Long version() {
		return this.version;
	}

	Recorded recorded() {
		return this.recorded;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Patient patient && this.id.equals(patient.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Patient " + this.id;
	}

}
