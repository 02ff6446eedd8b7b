package org.seriatim.outcome.domain;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies a review. */
@Embeddable
public record SignalReviewId(UUID value) implements Serializable {

	public static SignalReviewId of(String value) {
		return new SignalReviewId(UUID.fromString(value));
	}

	static SignalReviewId next() {
		return new SignalReviewId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
