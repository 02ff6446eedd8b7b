package org.seriatim.photograph;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies a photograph and names its file. */
@Embeddable
public record PhotographId(UUID value) implements Serializable {

	public static PhotographId of(String value) {
		return new PhotographId(UUID.fromString(value));
	}

	public static PhotographId next() {
		return new PhotographId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
