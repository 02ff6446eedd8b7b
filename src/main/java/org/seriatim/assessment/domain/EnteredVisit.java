package org.seriatim.assessment.domain;

/**
 * What one assessor has entered of one day.
 *
 * @param version rises with every entry that is added or corrected
 */
public record EnteredVisit(VisitEntry entry, Long version) {
}
