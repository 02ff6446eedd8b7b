package org.seriatim.access.domain;

import java.time.Instant;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.domain.AuditAnchor.Head;

/**
 * What a walk through the audit log has found.
 *
 * @param sealed how many seals it has followed
 * @param fromBefore how many of them are of entries without a mark, from before marks
 * were made
 * @param head the last seal followed; none where nothing is sealed
 * @param sealedAt when that one was made
 * @param waiting how many entries wait to be sealed
 * @param waitingSince when the first of them was written
 * @param broken the first fault, none in a log that is as it was written
 */
record AuditVerdict(long sealed, long fromBefore, @Nullable Head head, @Nullable Instant sealedAt, long waiting,
		@Nullable Instant waitingSince, @Nullable AuditFault broken) {

	Optional<AuditFault> fault() {
		return Optional.ofNullable(this.broken);
	}

	/** What is put down about it in the log itself. */
	String words() {
		return fault()
			.map((fault) -> "%s at %s".formatted(fault.how().word(),
					(fault.position() != null) ? "position " + fault.position() : "entry " + fault.entry()))
			.orElseGet(() -> "intact, sealed up to " + ((this.head != null) ? this.head.text() : "nothing"));
	}

}
