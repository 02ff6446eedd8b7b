package org.seriatim.assessment.domain;

import java.time.LocalDate;

/** A value and the day of which it was true. */
public record Dated<T>(T value, LocalDate day) {
}
