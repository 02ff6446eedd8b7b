package org.seriatim.finding;

import java.time.LocalDate;

/**
 * One contact at which a finding was present or absent.
 */
public record ObservationFacts(LocalDate observedOn, boolean present) {
}
