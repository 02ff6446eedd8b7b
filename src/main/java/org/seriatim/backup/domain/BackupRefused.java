package org.seriatim.backup.domain;

import org.jspecify.annotations.Nullable;

/**
 * A backup was not made, not readable or not restored, for a reason that the person who
 * asked can mend. The message is for that person: what was found, and what to do. It
 * holds no patient's data and no secret.
 */
public class BackupRefused extends RuntimeException {

	private static final long serialVersionUID = 1L;

	/** What kind of reason it is, where somebody decides by it. */
	public enum Reason {

		/** The passphrase does not open this file. */
		WRONG_PASSPHRASE,

		/** The file is no backup, or not as it was written. */
		DAMAGED,

		/** Another backup is being made. */
		BUSY,

		/** Anything else. */
		OTHER

	}

	private final Reason reason;

	BackupRefused(Reason reason, String message, @Nullable Throwable cause) {
		super(message, cause);
		this.reason = reason;
	}

	BackupRefused(String message) {
		this(Reason.OTHER, message, null);
	}

	static BackupRefused damaged(String what) {
		return new BackupRefused(Reason.DAMAGED, what + " Use another copy or another backup.", null);
	}

	public Reason reason() {
		return this.reason;
	}

}
