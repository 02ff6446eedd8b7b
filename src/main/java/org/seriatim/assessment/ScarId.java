package org.seriatim.assessment;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies a tracked scar. */
@Embeddable
public record ScarId(UUID value) implements Serializable {

	public static ScarId of(String value) {
		return new ScarId(UUID.fromString(value));
	}

	public static ScarId next() {
		return new ScarId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
