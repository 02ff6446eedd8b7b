package org.seriatim.assessment.web;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.domain.CountCell;

/**
 * Counts by region and type of one day.
 *
 * @param wholeFace whether what stays empty of the scored types of the face was looked at
 * and is 0
 * @param reason why it is corrected
 * @param version the version that the form shows
 */
record CountsForm(@NotBlank(message = "{assessment.day.missing}") @Nullable String assessedOn,
		@Nullable Boolean wholeFace, @Valid List<CountRow> regions, @Size(max = 500) @Nullable String reason,
		@Nullable Long version) {

	CountsForm(@Nullable String assessedOn, @Nullable Boolean wholeFace, @Nullable List<CountRow> regions,
			@Nullable String reason, @Nullable Long version) {
		this.assessedOn = assessedOn;
		this.wholeFace = wholeFace;
		this.regions = (regions != null) ? regions.stream().filter(Objects::nonNull).toList() : List.of();
		this.reason = reason;
		this.version = version;
	}

	static CountsForm from(LocalDate day, Map<CountCell, Integer> counts, @Nullable Long version) {
		return new CountsForm(day.toString(), null,
				Arrays.stream(Region.values()).map((region) -> row(region, counts)).toList(), null, version);
	}

	private static CountRow row(Region region, Map<CountCell, Integer> counts) {
		var ofTypes = new EnumMap<CountedType, String>(CountedType.class);
		for (CountedType type : CountedType.values()) {
			var count = counts.get(new CountCell(region, type));
			if (count != null) {
				ofTypes.put(type, count.toString());
			}
		}
		return CountRow.from(region.word(), ofTypes);
	}

	boolean isOfWholeFace() {
		return Boolean.TRUE.equals(this.wholeFace);
	}

}
