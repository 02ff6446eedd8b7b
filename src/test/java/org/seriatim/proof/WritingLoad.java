package org.seriatim.proof;

import java.io.IOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.LockSupport;
import java.util.concurrent.locks.ReentrantReadWriteLock;
import java.util.function.BooleanSupplier;

/**
 * People who write at the same time, each one thing after the other, until they are told
 * to rest. Who gets no answer looks again a moment later, as a person would.
 */
final class WritingLoad implements AutoCloseable {

	private static final Duration A_MOMENT = Duration.ofMillis(200);

	private static final Duration MOST = Duration.ofMinutes(2);

	private final ReentrantReadWriteLock gate = new ReentrantReadWriteLock(true);

	private final List<Thread> people = new ArrayList<>();

	private final AtomicLong lost = new AtomicLong();

	private volatile boolean over;

	/** One kind of writing, by one person. */
	interface Work {

		/**
		 * Writes one thing, or goes on where an answer failed to come.
		 * @return how long the person does something else then
		 * @throws IOException if no answer came
		 */
		Duration once() throws IOException;

	}

	/** Nobody writes before {@link #run()}. */
	WritingLoad(List<Work> works) {
		rest();
		works.forEach((work) -> {
			var person = new Thread(() -> goOn(work), "writing");
			person.setDaemon(true);
			person.start();
			this.people.add(person);
		});
	}

	private void goOn(Work work) {
		while (!this.over) {
			var pause = A_MOMENT;
			this.gate.readLock().lock();
			try {
				pause = work.once();
			}
			catch (IOException ex) {
				this.lost.incrementAndGet();
			}
			finally {
				this.gate.readLock().unlock();
			}
			LockSupport.parkNanos(pause.toNanos());
		}
	}

	/** Lets everybody write. */
	void run() {
		this.gate.writeLock().unlock();
	}

	/** Waits until everybody has an answer, or none, and lets nobody go on. */
	void rest() {
		this.gate.writeLock().lock();
	}

	/** Lets everybody write for so long, and goes on meanwhile. */
	void runFor(Duration time, Runnable then) {
		runUntil(() -> true, time, then);
	}

	/**
	 * Lets everybody write until it is enough and then for so long, and goes on
	 * meanwhile.
	 */
	void runUntil(BooleanSupplier enough, Duration more, Runnable then) {
		run();
		var latest = System.nanoTime() + MOST.toNanos();
		while (!enough.getAsBoolean() && System.nanoTime() < latest) {
			LockSupport.parkNanos(A_MOMENT.toNanos() / 10);
		}
		pass(more);
		then.run();
		rest();
	}

	static void pass(Duration time) {
		var until = System.nanoTime() + time.toNanos();
		while (System.nanoTime() < until) {
			LockSupport.parkNanos(until - System.nanoTime());
		}
	}

	/** How many answers did not come. */
	long lost() {
		return this.lost.get();
	}

	@Override
	public void close() {
		this.over = true;
		this.gate.writeLock().unlock();
		for (var person : this.people) {
			try {
				person.join(Duration.ofMinutes(2).toMillis());
			}
			catch (InterruptedException ex) {
				Thread.currentThread().interrupt();
			}
		}
	}

}
