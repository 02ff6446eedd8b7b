package org.seriatim.followup.domain;

import org.seriatim.assessment.RepeatedRatings;
import org.seriatim.finding.LumpCurve;

/**
 * The clinic's own figures that an advice rests on beside the facts of its series.
 *
 * @param curve over all lumps
 * @param ratings pairs of ratings
 */
record ClinicFigures(LumpCurve curve, RepeatedRatings ratings) {
}
