package org.seriatim.assessment;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.seriatim.statistics.Detectability;
import org.seriatim.statistics.RatingPair;
import org.seriatim.statistics.SmallestDetectableChange;

/**
 * What the clinic's pairs of ratings of one scar on one day say about its measurement
 * error, before any demand on their number. A pair needs both depths above 0, and is none
 * when they are known to come from two methods.
 *
 * @param between pairs of two assessors' first ratings; none without a pair
 * @param within pairs of one assessor's first rating and blinded repeat; none without a
 * pair
 */
public record RepeatedRatings(Detectability.@Nullable Known between, Detectability.@Nullable Known within) {

	/** Finds the pairs among these depths and judges them. */
	public static RepeatedRatings among(Collection<RatedDepth> depths) {
		record ScarDay(ScarId scar, LocalDate day) {
		}
		Map<ScarDay, List<RatedDepth>> byScarAndDay = new LinkedHashMap<>();
		for (var depth : depths) {
			if (depth.depthMm() > 0) {
				byScarAndDay.computeIfAbsent(new ScarDay(depth.scar(), depth.assessedOn()), (key) -> new ArrayList<>())
					.add(depth);
			}
		}
		var between = new ArrayList<RatingPair>();
		var within = new ArrayList<RatingPair>();
		for (var ofOneDay : byScarAndDay.values()) {
			for (int i = 1; i < ofOneDay.size(); i++) {
				for (int j = 0; j < i; j++) {
					var one = ofOneDay.get(i);
					var other = ofOneDay.get(j);
					if (one.isByTwoMethodsWith(other)) {
						continue;
					}
					if (one.isByAnotherAssessorThan(other)) {
						between.add(pair(one, other));
					}
					else if (one.isBlindedRepeatOf(other) || other.isBlindedRepeatOf(one)) {
						within.add(pair(one, other));
					}
				}
			}
		}
		return new RepeatedRatings(judge(between), judge(within));
	}

	private static RatingPair pair(RatedDepth one, RatedDepth other) {
		return new RatingPair(one.patient().toString(), one.depthMm(), other.depthMm());
	}

	private static Detectability.@Nullable Known judge(List<RatingPair> pairs) {
		return (SmallestDetectableChange.of(pairs, 1, 1) instanceof Detectability.Known known) ? known : null;
	}

	/**
	 * The repeatability under a protocol's demand: between assessors where it has enough
	 * pairs from enough patients, else within one assessor, else none.
	 */
	public Repeatability repeatability(int pairsNeeded, int patientsNeeded) {
		if (carries(this.between, pairsNeeded, patientsNeeded)) {
			return new Repeatability.Known(Repeatability.Raters.BETWEEN, this.between);
		}
		if (carries(this.within, pairsNeeded, patientsNeeded)) {
			return new Repeatability.Known(Repeatability.Raters.WITHIN, this.within);
		}
		return new Repeatability.TooFew(this, pairsNeeded, patientsNeeded);
	}

	private static boolean carries(Detectability.@Nullable Known judged, int pairsNeeded, int patientsNeeded) {
		return judged != null && judged.pairs() >= pairsNeeded && judged.patients() >= patientsNeeded;
	}

}
