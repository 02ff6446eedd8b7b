package org.seriatim.proof;

import java.time.Duration;
import java.util.List;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Supplier;

/** Waits for what the service does by itself, such as clearing away what a kill left. */
final class Patience {

	private static final Duration MOST = Duration.ofSeconds(150);

	private static final long LOOK_AGAIN = Duration.ofMillis(250).toNanos();

	private Patience() {
	}

	/** What is still found when there was time enough to mend it. */
	static List<String> until(Supplier<List<String>> faults) {
		var end = System.nanoTime() + MOST.toNanos();
		var found = faults.get();
		while (!found.isEmpty() && System.nanoTime() < end) {
			LockSupport.parkNanos(LOOK_AGAIN);
			found = faults.get();
		}
		return found;
	}

}
