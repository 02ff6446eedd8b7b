package org.seriatim.contactlink.domain;

import java.util.UUID;

/** Identifies a link; random, and not its secret. */
public record LinkId(UUID value) {

	@Override
	public String toString() {
		return this.value.toString();
	}

}
