package org.seriatim.contactlink.domain;

import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;

import org.jspecify.annotations.Nullable;
import org.seriatim.contactlink.AppointmentReminders;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.context.SmartLifecycle;
import org.springframework.stereotype.Component;

/**
 * Lets reminders wait when they are due and empties the outbox, again and again, in a
 * thread of its own, since a server that does not answer would else hold up what the
 * service does by the clock. Commands send nothing.
 */
@Component
@ConditionalOnWebApplication
class OutboxSchedule implements SmartLifecycle {

	private static final Logger log = LoggerFactory.getLogger(OutboxSchedule.class);

	/** As long as one message may take; what is cut off is left to people. */
	private static final int PATIENCE_SECONDS = 20;

	private final SendOutbox outbox;

	private final OutboxSettings settings;

	private final ObjectProvider<AppointmentReminders> reminders;

	private @Nullable ScheduledExecutorService thread;

	OutboxSchedule(SendOutbox outbox, OutboxSettings settings, ObjectProvider<AppointmentReminders> reminders) {
		this.outbox = outbox;
		this.settings = settings;
		this.reminders = reminders;
	}

	@Override
	public synchronized void start() {
		if (this.settings.every().isZero() || this.thread != null) {
			return;
		}
		this.thread = Executors.newSingleThreadScheduledExecutor((work) -> {
			var thread = new Thread(work, "outbox");
			thread.setDaemon(true);
			return thread;
		});
		var millis = this.settings.every().toMillis();
		this.thread.scheduleWithFixedDelay(this::send, millis, millis, TimeUnit.MILLISECONDS);
	}

	private void send() {
		try {
			this.reminders.ifAvailable(AppointmentReminders::bringUpToDate);
			this.outbox.sendDue();
		}
		catch (RuntimeException ex) {
			// a task that throws would never run again
			log.error("The outbox could not be emptied; it is tried again: {}", ex.getClass().getName());
		}
	}

	@Override
	public synchronized void stop() {
		if (this.thread == null) {
			return;
		}
		this.thread.shutdown();
		try {
			this.thread.awaitTermination(PATIENCE_SECONDS, TimeUnit.SECONDS);
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
		}
		this.thread = null;
	}

	@Override
	public synchronized boolean isRunning() {
		return this.thread != null;
	}

}
