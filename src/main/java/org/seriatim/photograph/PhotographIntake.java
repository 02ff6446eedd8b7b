package org.seriatim.photograph;

import java.math.BigDecimal;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;

/** Takes photographs in, as the pages do, for a module that has files of its own. */
public interface PhotographIntake {

	/**
	 * How a photograph was taken.
	 *
	 * @param scar what a close view shows
	 * @param distanceCm from the lens to the skin
	 */
	record Taken(LocalDate on, View view, LightSet lightSet, @Nullable ScarId scar, int distanceCm, String camera) {
	}

	/** Records that a patient allows them to be taken and looked at for treatment. */
	void allow(PatientId patient, LocalDate on);

	/**
	 * Takes a file in: it is decoded, encoded anew and on the disk when this returns.
	 * @param file a JPEG or PNG
	 */
	PhotographId add(PatientId patient, Taken taken, byte[] file);

	/**
	 * Says where the two landmarks are, as shares of width and height from the upper left
	 * corner.
	 */
	void mark(PhotographId photograph, BigDecimal firstX, BigDecimal firstY, BigDecimal secondX, BigDecimal secondY);

}
