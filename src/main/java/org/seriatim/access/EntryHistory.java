package org.seriatim.access;

import java.util.Optional;
import java.util.UUID;

/**
 * Every version that an entry ever had, whole: the present one and those that it
 * replaced. What one correction changed: {@link EarlierVersions}.
 */
public interface EntryHistory {

	/**
	 * @param kind the table's word: {@code patient}, {@code scar_assessment} …
	 * @return empty if there is no such entry, or the kind keeps no versions
	 */
	Optional<VersionedEntry> of(String kind, UUID entry);

}
