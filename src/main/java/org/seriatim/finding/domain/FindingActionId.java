package org.seriatim.finding.domain;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies what was done about a finding. */
@Embeddable
public record FindingActionId(UUID value) implements Serializable {

	public static FindingActionId of(String value) {
		return new FindingActionId(UUID.fromString(value));
	}

	static FindingActionId next() {
		return new FindingActionId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
