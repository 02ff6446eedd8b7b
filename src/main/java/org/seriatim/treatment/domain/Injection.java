package org.seriatim.treatment.domain;

import java.util.Objects;
import java.util.UUID;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.hibernate.id.uuid.UuidVersion7Strategy;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.PreparationId;

/** What was placed in one target of a session. */
@Entity
@Table(name = "injection")
class Injection {

	@Id
	private UUID id;

	/**
	 * Repeated so that the database can hold that scar and session are of one patient.
	 */
	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@ManyToOne(fetch = FetchType.LAZY)
	@JoinColumn(name = "session_id")
	private Session session;

	private int number;

	/**
	 * An id, since Hibernate would write the injection first and correct it at once. The
	 * database holds at the end of the transaction that the preparation is the session's.
	 */
	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "preparation_id"))
	private @Nullable PreparationId preparation;

	@Embedded
	private Placement placement;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Injection() {
	}

	@SuppressWarnings("NullAway.Init")
	Injection(Session session, int number, @Nullable PreparationId preparation, Placement placement,
			Recorded recorded) {
		this.id = UuidVersion7Strategy.INSTANCE.generateUuid(null);
		this.patient = session.patient();
		this.session = session;
		this.number = number;
		this.preparation = preparation;
		this.placement = placement;
		this.recorded = recorded;
	}

	boolean correct(@Nullable PreparationId preparation, Placement placement, Recorded recorded) {
		if (Objects.equals(preparation, this.preparation) && placement.equals(this.placement)) {
			return false;
		}
		this.preparation = preparation;
		this.placement = placement;
		this.recorded = recorded;
		return true;
	}

	UUID id() {
		return this.id;
	}

	int number() {
		return this.number;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Injection injection && this.id.equals(injection.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Injection " + this.id;
	}

}
