package org.seriatim.finding.domain;

import java.math.BigDecimal;

import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Min;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;
import org.springframework.validation.annotation.Validated;

/**
 * What a clinic sets about findings.
 *
 * @param noduleFromMm diameter from which on a papule is called a nodule, in millimetres
 * @param reportWithinDays days from the day on which a finding came on record to the day
 * by which a report of it is due; local law decides, so there is none until it is set
 * @param followUpAfterDays days from a report that was sent to the follow-up that is
 * proposed; none until it is set
 */
@ConfigurationProperties("seriatim.findings")
@Validated
public record FindingSettings(@DefaultValue("5") @DecimalMin("0.1") BigDecimal noduleFromMm,
		@Nullable @Min(1) Integer reportWithinDays, @Nullable @Min(1) Integer followUpAfterDays) {
}
