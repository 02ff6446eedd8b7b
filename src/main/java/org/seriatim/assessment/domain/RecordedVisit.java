package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.LongStream;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;

/** The stored entries of one day by one assessor, all first ratings or all repeats. */
record RecordedVisit(List<ScarAssessment> scars, List<PoreAssessment> pores, List<GlobalAssessment> scales) {

	boolean isEmpty() {
		return this.scars.isEmpty() && this.pores.isEmpty() && this.scales.isEmpty();
	}

	boolean has(ScaleItem what) {
		return this.scales.stream().anyMatch((assessment) -> assessment.isOf(what));
	}

	/**
	 * Entries are added and corrected, never removed, so this number rises with every
	 * change.
	 */
	Long version() {
		return Stream
			.of(this.scars.stream().mapToLong(ScarAssessment::version),
					this.pores.stream().mapToLong(PoreAssessment::version),
					this.scales.stream().mapToLong(GlobalAssessment::version))
			.flatMapToLong((versions) -> versions)
			.flatMap((version) -> LongStream.of(version + 1))
			.sum();
	}

	@Nullable Recorded lastRecorded() {
		return Stream
			.of(this.scars.stream().map(ScarAssessment::recorded), this.pores.stream().map(PoreAssessment::recorded),
					this.scales.stream().map(GlobalAssessment::recorded))
			.flatMap((recorded) -> recorded)
			.max(Comparator.comparing(Recorded::recordedAt))
			.orElse(null);
	}

	EnteredVisit entered() {
		var ofScales = new HashMap<ScaleItem, BigDecimal>();
		for (ScaleItem what : ScaleItem.all()) {
			this.scales.stream()
				.filter((assessment) -> assessment.isOf(what))
				.forEach((assessment) -> ofScales.put(what, assessment.value()));
		}
		return new EnteredVisit(new VisitEntry(
				this.scars.stream().collect(Collectors.toMap(ScarAssessment::scar, ScarAssessment::measurement)),
				this.pores.stream().collect(Collectors.toMap(PoreAssessment::region, PoreAssessment::finding)),
				ofScales), version());
	}

}
