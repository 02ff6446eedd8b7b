package org.seriatim.finding;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies a contact after a session. */
@Embeddable
public record ContactId(UUID value) implements Serializable {

	public static ContactId of(String value) {
		return new ContactId(UUID.fromString(value));
	}

	public static ContactId next() {
		return new ContactId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
