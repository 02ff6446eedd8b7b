package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.List;

import org.seriatim.treatment.ProtocolVersion;
import org.seriatim.treatment.ProtocolVersion.SkinShift;

/** The protocol that a clinic starts with, and variations of it. */
final class ProtocolFixture {

	private ProtocolFixture() {
	}

	static ProtocolVersion firstProtocol() {
		return protocol(42, 14, 56, SkinShift.NOT_SET);
	}

	static ProtocolVersion protocol(int base, int window, int extended, SkinShift skin) {
		return new ProtocolVersion(1, LocalDate.of(2024, 1, 1), base, window, extended, 14, 14, 0.90, 30, 10, 5, 3, 3,
				skin, List.of(1, 3, 7, 15), 7);
	}

}
