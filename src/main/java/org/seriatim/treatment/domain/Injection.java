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
import org.seriatim.treatment.PointPattern;
import org.seriatim.treatment.PreparationId;
import org.seriatim.treatment.domain.SessionDetails.Injected;

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
	private @Nullable PointPattern pattern;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Injection() {
	}

	@SuppressWarnings("NullAway.Init")
	Injection(Session session, Injected injected, @Nullable PreparationId preparation, Recorded recorded) {
		this.id = UuidVersion7Strategy.INSTANCE.generateUuid(null);
		this.patient = session.patient();
		this.session = session;
		this.number = injected.number();
		this.preparation = preparation;
		this.placement = injected.placement();
		this.pattern = injected.pattern();
		this.recorded = recorded;
	}

	boolean correct(@Nullable PreparationId preparation, Injected injected, Recorded recorded) {
		// a value of which nothing is known comes back from the database as null
		var before = Objects.requireNonNullElse(this.pattern, PointPattern.UNKNOWN);
		if (Objects.equals(preparation, this.preparation) && injected.placement().equals(this.placement)
				&& injected.pattern().equals(before)) {
			return false;
		}
		this.preparation = preparation;
		this.placement = injected.placement();
		this.pattern = injected.pattern();
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
