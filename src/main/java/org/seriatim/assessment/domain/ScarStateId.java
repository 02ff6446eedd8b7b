package org.seriatim.assessment.domain;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies what became of a scar at a visit. */
@Embeddable
public record ScarStateId(UUID value) implements Serializable {

	public static ScarStateId of(String value) {
		return new ScarStateId(UUID.fromString(value));
	}

	static ScarStateId next() {
		return new ScarStateId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
