package org.seriatim.treatment;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies a reconstituted vial of one session. */
@Embeddable
public record PreparationId(UUID value) implements Serializable {

	public static PreparationId of(String value) {
		return new PreparationId(UUID.fromString(value));
	}

	public static PreparationId next() {
		return new PreparationId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
