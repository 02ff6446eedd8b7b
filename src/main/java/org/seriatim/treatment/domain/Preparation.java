package org.seriatim.treatment.domain;

import java.util.Objects;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.treatment.Handling;
import org.seriatim.treatment.PreparationId;
import org.seriatim.treatment.domain.SessionDetails.Prepared;

/** One reconstituted vial of a session. */
@Entity
@Table(name = "preparation")
class Preparation {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private PreparationId id;

	@ManyToOne(fetch = FetchType.LAZY)
	@JoinColumn(name = "session_id")
	private Session session;

	private int number;

	@Embedded
	private Reconstitution reconstitution;

	@Embedded
	private @Nullable Handling handling;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Preparation() {
	}

	@SuppressWarnings("NullAway.Init")
	Preparation(Session session, Prepared prepared, Recorded recorded) {
		this.id = PreparationId.next();
		this.session = session;
		this.number = prepared.number();
		this.reconstitution = prepared.reconstitution();
		this.handling = prepared.handling();
		this.recorded = recorded;
	}

	boolean correct(Prepared prepared, Recorded recorded) {
		// a value of which nothing is known comes back from the database as null
		var before = Objects.requireNonNullElse(this.handling, Handling.UNKNOWN);
		if (prepared.reconstitution().equals(this.reconstitution) && prepared.handling().equals(before)) {
			return false;
		}
		this.reconstitution = prepared.reconstitution();
		this.handling = prepared.handling();
		this.recorded = recorded;
		return true;
	}

	PreparationId id() {
		return this.id;
	}

	int number() {
		return this.number;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Preparation preparation && this.id.equals(preparation.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Preparation " + this.id;
	}

}
