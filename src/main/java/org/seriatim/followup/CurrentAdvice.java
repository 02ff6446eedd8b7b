package org.seriatim.followup;

import java.util.List;
import java.util.Optional;

import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SeriesId;

/**
 * The advice of series as it is kept: always what the record says now, since it is
 * rewritten in the transaction that changes what it rests on.
 */
public interface CurrentAdvice {

	/** The current advice; empty for an ended series and before the first session. */
	Optional<StandingAdvice> of(SeriesId series);

	/**
	 * The current advice of all open series of a patient, for who decides something by
	 * it: it stays as it is until the transaction that asks has ended.
	 */
	List<StandingAdvice> heldStill(PatientId patient);

	/** The current advice of all open series of a patient. */
	List<StandingAdvice> of(PatientId patient);

	/** Everything that was ever advised on the series, the newest first. */
	List<StandingAdvice> everGivenOn(SeriesId series);

	/**
	 * Computes an advice again from the facts, the protocol version and the snapshot that
	 * it rested on; empty if there is no such advice.
	 */
	Optional<Advice> asItWas(AdviceId advice);

}
