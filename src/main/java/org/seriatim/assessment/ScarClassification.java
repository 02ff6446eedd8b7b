package org.seriatim.assessment;

import java.time.LocalDate;

/** What somebody said on one day had become of a scar. */
public record ScarClassification(LocalDate on, ScarStanding standing) {
}
