package org.seriatim.assessment;

import java.time.LocalDate;
import java.util.List;

/**
 * A tracked scar with its ratings.
 *
 * @param scar identity through the series
 * @param label the patient's own label for it
 * @param region where it lies
 * @param type as last classified
 * @param ratings in any order
 */
public record RatedScar(ScarId scar, String label, Region region, ScarType type, List<ScarRating> ratings) {

	public RatedScar {
		ratings = List.copyOf(ratings);
	}

	/** The same scar as it was known on a day: without ratings dated later. */
	public RatedScar asOf(LocalDate day) {
		return new RatedScar(this.scar, this.label, this.region, this.type,
				this.ratings.stream().filter((rating) -> !rating.assessedOn().isAfter(day)).toList());
	}

}
