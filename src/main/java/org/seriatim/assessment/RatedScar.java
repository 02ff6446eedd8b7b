package org.seriatim.assessment;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;

/**
 * A tracked scar with its ratings.
 *
 * @param scar identity through the series
 * @param label the patient's own label for it
 * @param region where it lies
 * @param type as last classified
 * @param ratings in any order
 * @param classifications what else became of it, in any order
 */
public record RatedScar(ScarId scar, String label, Region region, ScarType type, List<ScarRating> ratings,
		List<ScarClassification> classifications) {

	public RatedScar {
		ratings = List.copyOf(ratings);
		// facts that were kept before there were any know of none
		classifications = (classifications != null) ? List.copyOf(classifications) : List.of();
	}

	/** A scar that was simply measured. */
	public RatedScar(ScarId scar, String label, Region region, ScarType type, List<ScarRating> ratings) {
		this(scar, label, region, type, ratings, List.of());
	}

	/**
	 * The same scar as it was known on a day: without ratings and classifications dated
	 * later.
	 */
	public RatedScar asOf(LocalDate day) {
		return new RatedScar(this.scar, this.label, this.region, this.type,
				this.ratings.stream().filter((rating) -> !rating.assessedOn().isAfter(day)).toList(),
				this.classifications.stream().filter((one) -> !one.on().isAfter(day)).toList());
	}

	/**
	 * Its ratings and, for each day on which it was seen to be gone and no depth was
	 * measured, a depth of 0. That is compared like the last depth before, which it ends.
	 */
	List<ScarRating> ratingsAndResolutions() {
		var all = new ArrayList<>(this.ratings);
		for (var one : this.classifications) {
			if (one.standing() == ScarStanding.RESOLVED && this.type.hasDepthStatistics() && all.stream()
				.noneMatch((rating) -> rating.depthMm() != null && rating.assessedOn().equals(one.on()))) {
				all.add(new ScarRating(one.on(), 0.0, methodBefore(one.on()), null));
			}
		}
		return all;
	}

	private @Nullable DepthMethod methodBefore(LocalDate day) {
		return this.ratings.stream()
			.filter((rating) -> rating.depthMm() != null && rating.assessedOn().isBefore(day))
			.max(Comparator.comparing(ScarRating::assessedOn))
			.map(ScarRating::method)
			.orElse(null);
	}

	/**
	 * Why it is left out by the end of a day: the last classification by which it left
	 * and after which nobody followed it again. On one day leaving outweighs.
	 */
	Optional<ScarClassification> leftBy(@Nullable LocalDate day) {
		return this.classifications.stream()
			.filter((one) -> day == null || !one.on().isAfter(day))
			.filter((one) -> one.standing().leaves() || one.standing().returns())
			.max(Comparator.comparing(ScarClassification::on).thenComparing((one) -> one.standing().leaves()))
			.filter((one) -> one.standing().leaves());
	}

}
