package org.seriatim.finding;

import java.time.LocalDate;
import java.util.List;

/** The lumps of all patients, for the clinic's curve and its statistics. */
public interface ClinicLumps {

	/** Every lump that belongs to a session, as it was known at the end of a day. */
	List<ClinicLump> asOf(LocalDate day);

	/**
	 * How many lumps belong to no session, so that nothing can be said about their
	 * duration.
	 */
	int withoutSession(LocalDate day);

}
