package org.seriatim.access;

import java.util.Map;

/**
 * What an entry said at one time.
 *
 * @param number 0 for the first version
 * @param recorded who entered this version, when, and why it replaced the one before
 * @param content the value of each column that had one, as PostgreSQL writes it in JSON
 */
public record EntryVersion(long number, Recorded recorded, Map<String, String> content) {

	public EntryVersion {
		content = Map.copyOf(content);
	}

	/** Prints no content of the record. */
	@Override
	public String toString() {
		return "Version " + this.number;
	}

}
