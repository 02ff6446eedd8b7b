package org.seriatim.contactlink.domain;

import java.time.Duration;

import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;
import org.springframework.validation.annotation.Validated;

/**
 * How the outbox is emptied.
 *
 * @param every how long the service waits before it looks again for mail that is due;
 * zero for never
 */
@ConfigurationProperties("seriatim.outbox")
@Validated
record OutboxSettings(@DefaultValue("15s") Duration every) {
}
