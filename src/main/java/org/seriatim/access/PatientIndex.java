package org.seriatim.access;

import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/**
 * Tells {@code access}, which knows patients by opaque id only, whose record an address
 * shows. A module that knows patients implements it.
 */
public interface PatientIndex {

	/**
	 * Whose record an address shows.
	 * @param variables those of its pattern in the table of routes, such as
	 * {@code series}, with the values that the address has for them
	 * @return empty if there is no such entry
	 */
	Optional<UUID> shownAt(Map<String, String> variables);

	/** By the record number exactly as the clinic wrote it. */
	Optional<UUID> withRecordNumber(String recordNumber);

	Optional<String> recordNumberOf(UUID patient);

}
