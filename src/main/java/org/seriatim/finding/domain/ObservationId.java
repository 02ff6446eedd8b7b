package org.seriatim.finding.domain;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies an observation of a finding. */
@Embeddable
public record ObservationId(UUID value) implements Serializable {

	public static ObservationId of(String value) {
		return new ObservationId(UUID.fromString(value));
	}

	static ObservationId next() {
		return new ObservationId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
