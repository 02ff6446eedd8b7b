package org.seriatim.photograph.domain;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies a consent. */
@Embeddable
public record ConsentId(UUID value) implements Serializable {

	public static ConsentId of(String value) {
		return new ConsentId(UUID.fromString(value));
	}

	static ConsentId next() {
		return new ConsentId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
