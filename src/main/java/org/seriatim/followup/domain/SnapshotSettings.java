package org.seriatim.followup.domain;

import java.time.LocalTime;

import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * When the clinic's figures are kept for the day.
 *
 * @param dailyAt time of day where the clinic is
 */
@ConfigurationProperties("seriatim.snapshot")
record SnapshotSettings(@DefaultValue("03:30") LocalTime dailyAt) {
}
