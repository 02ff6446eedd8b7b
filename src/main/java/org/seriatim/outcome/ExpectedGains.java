package org.seriatim.outcome;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.seriatim.assessment.ScarType;

/** What one session more brought in this clinic, as it was computed last. */
public interface ExpectedGains {

	/** Empty before it was first computed. */
	Optional<Kept> latest();

	/**
	 * @param snapshot number of the snapshot that it was computed with
	 * @param asOf the last day whose records are in it
	 * @param gains by type and session, for all that was seen
	 */
	record Kept(int snapshot, LocalDate asOf, List<ExpectedGain> gains) {

		public Kept {
			gains = List.copyOf(gains);
		}

		/** Empty where no such scar was measured before and after such a session. */
		public Optional<ExpectedGain> of(ScarType type, int session) {
			return this.gains.stream().filter((gain) -> gain.type() == type && gain.session() == session).findFirst();
		}

	}

}
