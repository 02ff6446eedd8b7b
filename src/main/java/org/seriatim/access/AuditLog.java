package org.seriatim.access;

import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * The one hook through which every write and every opening of a patient's record goes. It
 * takes ids only, writes in the caller's transaction, and adds who acted and when by
 * itself.
 */
public interface AuditLog {

	/** What was done. */
	enum Action {

		OPENED, CREATED, CORRECTED, DECIDED, SIGNED_IN, SIGN_IN_REFUSED, IMPORTED, EXPORTED, ADMINISTERED, EMERGENCY

	}

	/**
	 * @param kind the table's word: {@code session}, {@code finding} …
	 * @param entry the entry written or opened, none for what concerns no single entry
	 * @param patient whose record it is, none for what concerns no patient
	 */
	default void record(Action action, String kind, @Nullable UUID entry, @Nullable UUID patient) {
		record(action, kind, entry, patient, null);
	}

	/**
	 * @param detail counts and checksums of an import, an address, a rule; never content
	 * of a record
	 */
	void record(Action action, String kind, @Nullable UUID entry, @Nullable UUID patient, @Nullable String detail);

}
