package org.seriatim.finding.domain;

import java.io.Serializable;
import java.util.UUID;

import jakarta.persistence.Embeddable;
import org.hibernate.id.uuid.UuidVersion7Strategy;

/** Identifies a decision on reporting a finding. */
@Embeddable
public record FindingReportId(UUID value) implements Serializable {

	public static FindingReportId of(String value) {
		return new FindingReportId(UUID.fromString(value));
	}

	static FindingReportId next() {
		return new FindingReportId(UuidVersion7Strategy.INSTANCE.generateUuid(null));
	}

	@Override
	public String toString() {
		return this.value.toString();
	}

}
