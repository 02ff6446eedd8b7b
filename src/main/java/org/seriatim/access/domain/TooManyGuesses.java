package org.seriatim.access.domain;

import java.time.Duration;

/** Another guess comes too early; it was neither looked at nor counted. */
public final class TooManyGuesses extends RuntimeException {

	private static final long serialVersionUID = 1L;

	private final Duration wait;

	TooManyGuesses(Duration wait) {
		super("another guess in " + wait);
		this.wait = wait;
	}

	/** How long to wait, in whole seconds, at least one. */
	public long seconds() {
		return Math.max(1, this.wait.plusMillis(999).toSeconds());
	}

}
