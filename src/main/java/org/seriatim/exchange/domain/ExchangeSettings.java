package org.seriatim.exchange.domain;

import java.time.Duration;

import jakarta.validation.constraints.Min;

import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;
import org.springframework.util.unit.DataSize;
import org.springframework.validation.annotation.Validated;

/**
 * Limits of import and export.
 *
 * @param largestBundle how much a bundle may hold once it is unpacked
 * @param shownProblems how many problems a page shows; the report that can be downloaded
 * holds them all
 * @param keepResult how long the outcome of an import can be looked at on the page
 */
@ConfigurationProperties("seriatim.exchange")
@Validated
public record ExchangeSettings(@DefaultValue("2GB") DataSize largestBundle,
		@DefaultValue("200") @Min(1) int shownProblems, @DefaultValue("24h") Duration keepResult) {
}
