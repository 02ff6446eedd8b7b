package org.seriatim.finding;

import java.util.Collection;
import java.util.List;

import org.seriatim.patient.PatientId;
import org.seriatim.statistics.CurveMasses;
import org.seriatim.statistics.DayGone;
import org.seriatim.statistics.Estimate;
import org.seriatim.statistics.IntervalCensoredCurve;

/**
 * The clinic's own curve of lump durations over all lumps, in days from the session.
 *
 * @param patients number of patients whose lumps it rests on
 * @param curve masses of the estimate; without any when there is no lump
 */
public record LumpCurve(int patients, CurveMasses curve) {

	/** Later days are not looked at: no clinic plans a series further ahead. */
	private static final int LAST_DAY = 365;

	/** A lump's duration with the patient whose lump it is. */
	public record OfPatient(PatientId patient, LumpDuration duration) {
	}

	/**
	 * The nonparametric maximum likelihood estimate for interval-censored data.
	 * @throws IllegalStateException if the estimate did not converge
	 */
	public static LumpCurve of(Collection<OfPatient> lumps) {
		var intervals = lumps.stream().map((lump) -> lump.duration().interval()).toList();
		var patients = (int) lumps.stream().map(OfPatient::patient).distinct().count();
		var estimate = IntervalCensoredCurve.of(intervals);
		if (estimate instanceof Estimate.NotConverged<?> stopped) {
			throw new IllegalStateException("the curve of lump durations did not converge: " + stopped);
		}
		return new LumpCurve(patients,
				estimate.known().map(IntervalCensoredCurve::masses).orElseGet(() -> new CurveMasses(0, List.of())));
	}

	/** Number of lumps that it rests on. */
	public int lumps() {
		return this.curve.lumps();
	}

	/**
	 * The first day by which a lump still present on a day has gone with at least this
	 * probability, the mass of each interval put at its right end.
	 */
	public DayGone firstDayGoneWith(double probability, int presentOn) {
		return this.curve.firstDayGoneWith(probability, presentOn, LAST_DAY);
	}

}
