package org.seriatim.access;

import java.util.List;
import java.util.UUID;

/**
 * An entry with all its versions.
 *
 * @param versions the latest first, at least one
 * @param removed whether the latest version, too, is one of the past: the entry was taken
 * out of what it was part of
 */
public record VersionedEntry(String kind, UUID id, List<EntryVersion> versions, boolean removed) {

	public VersionedEntry {
		if (versions.isEmpty()) {
			throw new IllegalArgumentException("an entry has at least one version");
		}
		versions = List.copyOf(versions);
	}

	public EntryVersion latest() {
		return this.versions.get(0);
	}

}
