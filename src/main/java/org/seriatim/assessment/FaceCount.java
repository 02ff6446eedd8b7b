package org.seriatim.assessment;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

import org.seriatim.access.StaffId;

/**
 * Scars counted by region and type on one day by one assessor. A cell that is not there
 * was not counted; 0 was counted and found empty.
 * <p>
 * The count is complete when every region of the face, which the neck is not, has a count
 * of each of the six types that the ECCA score weighs. Only then is there a score.
 *
 * @param counts by region, then by type
 */
public record FaceCount(LocalDate assessedOn, StaffId assessor, Map<Region, Map<CountedType, Integer>> counts) {

	public FaceCount {
		var copy = new EnumMap<Region, Map<CountedType, Integer>>(Region.class);
		counts.forEach((region, ofTypes) -> copy.put(region, Collections.unmodifiableMap(new EnumMap<>(ofTypes))));
		counts = Collections.unmodifiableMap(copy);
	}

	/** The regions of which the ECCA score is made. */
	public static List<Region> faceRegions() {
		return Arrays.stream(Region.values()).filter(Region::isOfFace).toList();
	}

	/** The types that the ECCA score weighs. */
	public static List<CountedType> scoredTypes() {
		return Arrays.stream(Ecca.Item.values()).map(Ecca.Item::type).toList();
	}

	public Optional<Integer> count(Region region, CountedType type) {
		return Optional.ofNullable(this.counts.getOrDefault(region, Map.of()).get(type));
	}

	/** How many cells are missing for the ECCA score; 0 when the count is complete. */
	public int missing() {
		return (int) faceRegions().stream()
			.flatMap((region) -> scoredTypes().stream().map((type) -> count(region, type)))
			.filter(Optional::isEmpty)
			.count();
	}

	/** The score, if the count is complete. */
	public Optional<Ecca> ecca() {
		if (missing() > 0) {
			return Optional.empty();
		}
		var totals = new EnumMap<Ecca.Item, Integer>(Ecca.Item.class);
		for (Ecca.Item item : Ecca.Item.values()) {
			totals.put(item,
					faceRegions().stream().mapToInt((region) -> count(region, item.type()).orElseThrow()).sum());
		}
		return Optional.of(new Ecca(totals));
	}

}
