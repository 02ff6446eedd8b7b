package org.seriatim.followup.domain;

import java.time.Clock;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.event.EventListener;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.scheduling.annotation.SchedulingConfigurer;
import org.springframework.scheduling.config.CronTask;
import org.springframework.scheduling.config.ScheduledTaskRegistrar;
import org.springframework.scheduling.support.CronTrigger;

/**
 * Takes the snapshot of a day in the small hours where the clinic is, or at the start of
 * a service that slept through them: of several services on one database, and of the
 * night and a start, the first one that comes. Commands take none.
 */
@Configuration(proxyBeanMethods = false)
@ConditionalOnWebApplication
@EnableScheduling
class DailySnapshot implements SchedulingConfigurer {

	private static final Logger LOG = LoggerFactory.getLogger(DailySnapshot.class);

	private final KeepAdviceCurrent advice;

	private final SnapshotSettings settings;

	private final Clock clock;

	DailySnapshot(KeepAdviceCurrent advice, SnapshotSettings settings, Clock clock) {
		this.advice = advice;
		this.settings = settings;
		this.clock = clock;
	}

	@Override
	public void configureTasks(ScheduledTaskRegistrar tasks) {
		var at = this.settings.dailyAt();
		var cron = "%d %d %d * * *".formatted(at.getSecond(), at.getMinute(), at.getHour());
		tasks.addCronTask(new CronTask(this.advice::withSnapshotOfToday, new CronTrigger(cron, this.clock.getZone())));
	}

	/** The service starts without it: advice then rests on the snapshot before. */
	@EventListener(ApplicationReadyEvent.class)
	void catchUp() {
		try {
			this.advice.withSnapshotOfToday();
		}
		catch (RuntimeException ex) {
			LOG.error("The snapshot of today could not be taken", ex);
		}
	}

}
