package org.seriatim.treatment.domain;

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
import org.seriatim.access.Recorded;
import org.seriatim.treatment.PreparationId;

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
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Preparation() {
	}

	@SuppressWarnings("NullAway.Init")
	Preparation(Session session, int number, Reconstitution reconstitution, Recorded recorded) {
		this.id = PreparationId.next();
		this.session = session;
		this.number = number;
		this.reconstitution = reconstitution;
		this.recorded = recorded;
	}

	boolean correct(Reconstitution reconstitution, Recorded recorded) {
		if (reconstitution.equals(this.reconstitution)) {
			return false;
		}
		this.reconstitution = reconstitution;
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
