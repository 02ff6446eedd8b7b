package org.seriatim.finding;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies an adverse finding. */
@Embeddable
public record FindingId(UUID value) implements Serializable {

	public static FindingId of(String value) {
		return new FindingId(UUID.fromString(value));
	}

	public static FindingId next() {
		return new FindingId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
