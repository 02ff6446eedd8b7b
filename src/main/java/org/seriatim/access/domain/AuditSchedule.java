package org.seriatim.access.domain;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.database.OneServiceAtATime;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.event.ContextClosedEvent;
import org.springframework.context.event.EventListener;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.scheduling.annotation.SchedulingConfigurer;
import org.springframework.scheduling.config.FixedDelayTask;
import org.springframework.scheduling.config.ScheduledTaskRegistrar;

/**
 * Seals the audit log every few seconds and once more at the end of the service, and
 * verifies it each night, or after a night in which no service ran. Of several services
 * on one database one seals at a time, and one verifies. What commands write is sealed by
 * the service.
 */
@Configuration(proxyBeanMethods = false)
@ConditionalOnWebApplication
@EnableScheduling
class AuditSchedule implements SchedulingConfigurer {

	private static final Logger LOG = LoggerFactory.getLogger(AuditSchedule.class);

	private static final Duration LOOK = Duration.ofMinutes(1);

	private static final Duration TRY_AGAIN = Duration.ofHours(1);

	private final SealAuditLog seal;

	private final VerifyAuditLog verification;

	private final AuditAnchor anchor;

	private final OneServiceAtATime services;

	private final AuditSettings settings;

	private final Clock clock;

	private volatile boolean failing;

	private @Nullable Instant failedToVerify;

	AuditSchedule(SealAuditLog seal, VerifyAuditLog verification, AuditAnchor anchor, OneServiceAtATime services,
			AuditSettings settings, Clock clock) {
		this.seal = seal;
		this.verification = verification;
		this.anchor = anchor;
		this.services = services;
		this.settings = settings;
		this.clock = clock;
	}

	@Override
	public void configureTasks(ScheduledTaskRegistrar tasks) {
		if (!this.settings.seals()) {
			return;
		}
		tasks.addFixedDelayTask(new FixedDelayTask(this::seal, this.settings.sealEvery(), Duration.ofSeconds(1)));
		tasks.addFixedDelayTask(new FixedDelayTask(this::verifyIfDue, LOOK, LOOK));
	}

	@EventListener(ContextClosedEvent.class)
	void sealWhatIsLeft() {
		if (this.settings.seals()) {
			seal();
		}
	}

	private void seal() {
		try {
			// the anchor lies in a folder that they may share
			this.services.run("seal audit log", () -> this.seal.all(this.anchor));
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

	/** Verifies the log unless that was done since the last time at which it should. */
	void verifyIfDue() {
		try {
			if (isDue()) {
				this.services.run("verify audit log", () -> {
					// another service may have ended it a moment ago
					if (isDue()) {
						verify();
					}
				});
			}
		}
		catch (RuntimeException ex) {
			this.failedToVerify = this.clock.instant();
			LOG.error("The audit log could not be verified; it is tried again in an hour", ex);
		}
	}

	private boolean isDue() {
		Instant now = this.clock.instant();
		if (this.failedToVerify != null && this.failedToVerify.plus(TRY_AGAIN).isAfter(now)) {
			return false;
		}
		var wanted = LocalDate.now(this.clock).atTime(this.settings.verifyAt()).atZone(this.clock.getZone());
		Instant last = (wanted.toInstant().isAfter(now) ? wanted.minusDays(1) : wanted).toInstant();
		return this.verification.lastAt().filter((at) -> !at.isBefore(last)).isEmpty();
	}

	private void verify() {
		if (this.seal.findForgotten() > 0) {
			LOG.warn("Entries of the audit log were neither sealed nor waiting for it; they are sealed now");
			seal();
		}
		var found = this.verification.andRecord(this.anchor.read());
		found.fault().ifPresent((fault) -> LOG.error("The audit log is not as it was written: {}", fault.sentence()));
	}

}
