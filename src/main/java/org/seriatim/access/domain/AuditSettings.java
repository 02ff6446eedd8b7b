package org.seriatim.access.domain;

import java.time.Duration;
import java.time.LocalTime;

import jakarta.validation.constraints.NotNull;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;
import org.springframework.validation.annotation.Validated;

/**
 * When the audit log is sealed and verified.
 *
 * @param sealEvery how long an entry waits at most to be sealed; zero seals nothing,
 * which is for tests
 * @param verifyAt when, where the clinic is, the service verifies the log each night
 */
@ConfigurationProperties("seriatim.audit")
@Validated
record AuditSettings(@NotNull @DefaultValue("10s") Duration sealEvery,
		@NotNull @DefaultValue("04:20") LocalTime verifyAt) {

	boolean seals() {
		return this.sealEvery.compareTo(Duration.ZERO) > 0;
	}

}
