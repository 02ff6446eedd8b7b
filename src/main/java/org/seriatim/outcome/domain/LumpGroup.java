package org.seriatim.outcome.domain;

import java.util.List;

import org.seriatim.statistics.Bounds;
import org.seriatim.statistics.CurveMasses;
import org.seriatim.statistics.PatientDurations;

/**
 * The durations of one group's lumps.
 *
 * @param value of the grouping: {@code all}, a region, a practitioner …
 * @param rightCensored lumps that nobody has seen gone
 * @param recurrent lumps that came back in between
 * @param curve the interval-censored estimate
 * @param durations the intervals themselves, patient by patient
 */
public record LumpGroup(String value, int patients, int lumps, int rightCensored, int recurrent, CurveMasses curve,
		List<PatientDurations> durations) {

	/** The interval in which the median lies, in days; its right end may be infinite. */
	public Bounds median() {
		return this.curve.median();
	}

	/** The share still present on a day; both ends are equal where the data say so. */
	public Bounds presentOn(int day) {
		return this.curve.stillPresent(day);
	}

}
