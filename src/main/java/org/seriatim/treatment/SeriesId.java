package org.seriatim.treatment;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies a series of one patient. */
@Embeddable
public record SeriesId(UUID value) implements Serializable {

	public static SeriesId of(String value) {
		return new SeriesId(UUID.fromString(value));
	}

	public static SeriesId next() {
		return new SeriesId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
