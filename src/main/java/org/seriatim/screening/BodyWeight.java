package org.seriatim.screening;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.UUID;

/** Body weight of a day, in kilograms. */
public record BodyWeight(UUID id, LocalDate weighedOn, BigDecimal weightKg, Long version) {
}
