package org.seriatim.assessment.web;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.domain.PoreFinding;
import org.seriatim.assessment.domain.ScaleItem;
import org.seriatim.assessment.domain.ScarMeasurement;
import org.seriatim.assessment.domain.VisitEntry;

/**
 * What one assessor found on one day: scars, pores and the whole face on one page.
 * Everything is text, so that whatever is refused comes back as it was typed.
 *
 * @param usualMethod how depths were obtained where a line says nothing else
 * @param reason why it is corrected
 * @param version the version that the form shows
 */
record AssessmentForm(@NotBlank(message = "{assessment.day.missing}") @Nullable String assessedOn,
		@Pattern(regexp = "estimated|gauge|ultrasound|imaging_3d|other",
				message = "{assessment.choose}") @Nullable String usualMethod,
		@Valid List<ScarRow> scars, @Valid List<PoreRow> pores, @Valid List<ScaleRow> scales,
		@Size(max = 500) @Nullable String reason, @Nullable Long version) {

	AssessmentForm(@Nullable String assessedOn, @Nullable String usualMethod, @Nullable List<ScarRow> scars,
			@Nullable List<PoreRow> pores, @Nullable List<ScaleRow> scales, @Nullable String reason,
			@Nullable Long version) {
		this.assessedOn = assessedOn;
		this.usualMethod = usualMethod;
		this.scars = present(scars);
		this.pores = present(pores);
		this.scales = present(scales);
		this.reason = reason;
		this.version = version;
	}

	/*
	 * A form without lines has no such list, one with a gap in its numbers an empty line.
	 */
	private static <T> List<T> present(@Nullable List<T> lines) {
		return (lines != null) ? lines.stream().filter(Objects::nonNull).toList() : List.of();
	}

	/**
	 * @param usualMethod how depths were obtained the last time
	 */
	static AssessmentForm empty(LocalDate day, List<TrackedScar> scars, boolean repeat, @Nullable String usualMethod) {
		var empty = from(day, scars, new VisitEntry(Map.of(), Map.of(), Map.of()), repeat, null);
		return new AssessmentForm(empty.assessedOn(), usualMethod, empty.scars(), empty.pores(), empty.scales(), null,
				null);
	}

	/**
	 * @param repeat whether these are second ratings, which scars alone have
	 */
	static AssessmentForm from(LocalDate day, List<TrackedScar> scars, VisitEntry entry, boolean repeat,
			@Nullable Long version) {
		return new AssessmentForm(day.toString(), null,
				scars.stream()
					.map((scar) -> ScarRow.from(scar.id().toString(),
							entry.scars().getOrDefault(scar.id(), ScarMeasurement.NOTHING)))
					.toList(),
				repeat ? List.of()
						: Arrays.stream(Region.values())
							.map((region) -> PoreRow.from(region.word(),
									entry.pores().getOrDefault(region, PoreFinding.NOTHING)))
							.toList(),
				repeat ? List.of()
						: ScaleItem.all().stream().map((item) -> ScaleRow.of(item, entry.scales().get(item))).toList(),
				null, version);
	}

}
