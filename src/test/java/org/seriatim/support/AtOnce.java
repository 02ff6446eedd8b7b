package org.seriatim.support;

import java.util.Arrays;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;

/** Things that happen in several threads at one moment. */
public final class AtOnce {

	private AtOnce() {
	}

	/** Does all of it at once, each in a thread of its own, and waits for the last. */
	public static void run(Runnable... all) throws InterruptedException, ExecutionException {
		var start = new CyclicBarrier(all.length);
		var threads = Executors.newFixedThreadPool(all.length);
		try {
			var jobs = Arrays.stream(all).<Future<?>>map((one) -> threads.submit(() -> {
				start.await(1, TimeUnit.MINUTES);
				one.run();
				return null;
			})).toList();
			for (var job : jobs) {
				job.get();
			}
		}
		finally {
			threads.shutdownNow();
		}
	}

	/** Waits for what another thread does; a minute is too long for any of it. */
	public static void await(CountDownLatch latch) {
		try {
			if (!latch.await(1, TimeUnit.MINUTES)) {
				throw new IllegalStateException("It did not happen");
			}
		}
		catch (InterruptedException ex) {
			throw new IllegalStateException(ex);
		}
	}

}
