package org.seriatim.treatment;

import java.time.LocalDate;
import java.util.Optional;

/** The protocol versions that the clinic has published. */
public interface Protocols {

	/** The newest. */
	ProtocolVersion current();

	Optional<ProtocolVersion> byNumber(int number);

	/**
	 * The newest that had been published by the end of this day; the first one for days
	 * before it.
	 */
	ProtocolVersion inForceOn(LocalDate day);

}
