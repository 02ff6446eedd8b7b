package org.seriatim.photograph.domain;

import java.time.Duration;

import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * When the file of a photograph that was never recorded goes.
 *
 * @param leftoversAfter how long after it was sent; longer than any photograph takes to
 * be recorded
 * @param leftoversEvery how long the service waits before it looks again; zero for never
 */
@ConfigurationProperties("seriatim.photographs")
record LeftoverSettings(@DefaultValue("1h") Duration leftoversAfter, @DefaultValue("10m") Duration leftoversEvery) {
}
