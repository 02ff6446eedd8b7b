package org.seriatim.patient;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies a patient; opaque, unlike the record number that the clinic gave. */
@Embeddable
public record PatientId(UUID value) implements Serializable {

	public static PatientId of(String value) {
		return new PatientId(UUID.fromString(value));
	}

	public static PatientId next() {
		return new PatientId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
