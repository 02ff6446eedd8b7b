package org.seriatim.access.web;

import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.validation.annotation.Validated;

/**
 * Who may read the figures about the service.
 *
 * @param token what a monitoring system shows; without one nobody reads them
 */
@ConfigurationProperties("seriatim.metrics")
@Validated
record MetricsSettings(@Nullable @Size(min = 32) String token) {

	@Override
	public String toString() {
		return "MetricsSettings";
	}

}
