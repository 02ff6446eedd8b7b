package org.seriatim.access.domain;

import java.time.Clock;
import java.time.Duration;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.event.ContextClosedEvent;
import org.springframework.context.event.EventListener;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.scheduling.annotation.SchedulingConfigurer;
import org.springframework.scheduling.config.CronTask;
import org.springframework.scheduling.config.FixedDelayTask;
import org.springframework.scheduling.config.ScheduledTaskRegistrar;
import org.springframework.scheduling.support.CronTrigger;

/**
 * Seals the audit log every few seconds and once more at the end of the service, and
 * verifies it each night. What commands write is sealed by the service.
 */
@Configuration(proxyBeanMethods = false)
@ConditionalOnWebApplication
@EnableScheduling
class AuditSchedule implements SchedulingConfigurer {

	private static final Logger LOG = LoggerFactory.getLogger(AuditSchedule.class);

	private final SealAuditLog seal;

	private final VerifyAuditLog verification;

	private final AuditAnchor anchor;

	private final AuditSettings settings;

	private final Clock clock;

	private volatile boolean failing;

	AuditSchedule(SealAuditLog seal, VerifyAuditLog verification, AuditAnchor anchor, AuditSettings settings,
			Clock clock) {
		this.seal = seal;
		this.verification = verification;
		this.anchor = anchor;
		this.settings = settings;
		this.clock = clock;
	}

	@Override
	public void configureTasks(ScheduledTaskRegistrar tasks) {
		if (!this.settings.seals()) {
			return;
		}
		tasks.addFixedDelayTask(new FixedDelayTask(this::seal, this.settings.sealEvery(), Duration.ofSeconds(1)));
		var at = this.settings.verifyAt();
		var cron = "%d %d %d * * *".formatted(at.getSecond(), at.getMinute(), at.getHour());
		tasks.addCronTask(new CronTask(this::verify, new CronTrigger(cron, this.clock.getZone())));
	}

	@EventListener(ContextClosedEvent.class)
	void sealWhatIsLeft() {
		if (this.settings.seals()) {
			seal();
		}
	}

	private void seal() {
		try {
			this.seal.all(this.anchor);
			this.failing = false;
		}
		catch (RuntimeException ex) {
			// it is tried again in seconds, and said once
			if (!this.failing) {
				LOG.error("The audit log could not be sealed; it is tried again", ex);
			}
			this.failing = true;
		}
	}

	private void verify() {
		try {
			if (this.seal.findForgotten() > 0) {
				LOG.warn("Entries of the audit log were neither sealed nor waiting for it; they are sealed now");
				seal();
			}
			var found = this.verification.andRecord(this.anchor.read());
			found.fault()
				.ifPresent((fault) -> LOG.error("The audit log is not as it was written: {}", fault.sentence()));
		}
		catch (RuntimeException ex) {
			LOG.error("The audit log could not be verified", ex);
		}
	}

}
