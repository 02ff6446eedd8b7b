package org.seriatim.followup;

import java.io.Serializable;
import java.util.UUID;

import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies an advice as it was given once. */
public record AdviceId(UUID value) implements Serializable {

	public static AdviceId of(String value) {
		return new AdviceId(UUID.fromString(value));
	}

	public static AdviceId next() {
		return new AdviceId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
