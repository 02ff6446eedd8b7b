package org.seriatim.access;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies a member of staff, with or without a sign-in. */
@Embeddable
public record StaffId(UUID value) implements Serializable {

	public static StaffId of(String value) {
		return new StaffId(UUID.fromString(value));
	}

	public static StaffId next() {
		return new StaffId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
