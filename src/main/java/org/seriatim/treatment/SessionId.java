package org.seriatim.treatment;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies a treatment session. */
@Embeddable
public record SessionId(UUID value) implements Serializable {

	public static SessionId of(String value) {
		return new SessionId(UUID.fromString(value));
	}

	public static SessionId next() {
		return new SessionId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
