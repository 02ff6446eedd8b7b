package org.seriatim.treatment.domain;

import java.util.UUID;

import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies the draft of a session. */
public record DraftId(UUID value) {

	public static DraftId of(String value) {
		return new DraftId(UUID.fromString(value));
	}

	static DraftId next() {
		return new DraftId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
