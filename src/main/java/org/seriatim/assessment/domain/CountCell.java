package org.seriatim.assessment.domain;

import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.Region;

/** What one number of a count is about. */
public record CountCell(Region region, CountedType type) {
}
