package org.seriatim.access.domain;

import java.time.Instant;
import java.util.Locale;

import org.jspecify.annotations.Nullable;

/**
 * The first place at which the audit log is not as it was written.
 *
 * @param position in the order of seals; none for what is not sealed
 * @param entry the entry's id, as far as it is known
 * @param at when it was written, or sealed where that is all that is left
 */
public record AuditFault(How how, @Nullable Long position, @Nullable Long entry, @Nullable Instant at) {

	/** What was done to the log. */
	public enum How {

		/** An entry is other than it was when it was sealed. */
		ALTERED("was altered"),

		/** An entry, or a seal between two others, is gone. */
		REMOVED("was removed"),

		/** An entry that the service did not write, or not so. */
		ADDED("was not written by the service: it was added, or altered before it was sealed"),

		/** An entry stands where another one belongs. */
		REORDERED("stands in the place of another"),

		/** A seal is not the one that was made: altered, or moved up or down. */
		SEAL("has a seal that was not made for it: seals were altered, removed or added"),

		/** What was sealed last is gone, or the log is another one than was anchored. */
		CUT_OFF("and what follows is missing: the end was cut off, or another log put in its place");

		private final String words;

		How(String words) {
			this.words = words;
		}

		/** One word for it. */
		public String word() {
			return name().toLowerCase(Locale.ROOT);
		}

	}

	/** For a person, without anything of a patient. */
	String sentence() {
		var text = new StringBuilder("the entry");
		if (this.position != null) {
			text.append(" at position ").append(this.position);
		}
		if (this.entry != null) {
			text.append(" with id ").append(this.entry);
		}
		if (this.at != null) {
			text.append(" of ").append(this.at);
		}
		return text.append(' ').append(this.how.words).toString();
	}

}
