package org.seriatim.backup.domain;

import java.time.Duration;

import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.context.annotation.Configuration;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.scheduling.annotation.SchedulingConfigurer;
import org.springframework.scheduling.config.FixedDelayTask;
import org.springframework.scheduling.config.ScheduledTaskRegistrar;

/**
 * Looks every minute whether a backup is due, so that one is also made after a night in
 * which the machine slept. Commands make none by themselves.
 */
@Configuration(proxyBeanMethods = false)
@ConditionalOnWebApplication
@EnableScheduling
class ScheduledBackups implements SchedulingConfigurer {

	private static final Duration LOOK = Duration.ofMinutes(1);

	private final BackupJobs jobs;

	ScheduledBackups(BackupJobs jobs) {
		this.jobs = jobs;
	}

	@Override
	public void configureTasks(ScheduledTaskRegistrar tasks) {
		tasks.addFixedDelayTask(new FixedDelayTask(this.jobs::startIfDue, LOOK, LOOK));
	}

}
