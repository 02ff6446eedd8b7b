package org.seriatim.record.domain;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.SeriesStages;

/**
 * The pores of one region through the stages of a series, by grade and by density, each
 * at the last day of a stage that has it. No measurement error is known for either, so a
 * change is shown and not judged.
 *
 * @param grades 0 to 4
 * @param densities pores per square centimetre
 */
public record PoreProgress(Region region, StageValues<PoreEntry> grades, StageValues<PoreEntry> densities) {

	static List<PoreProgress> of(List<PoreEntry> pores, SeriesStages stages) {
		return Arrays.stream(Region.values()).flatMap((region) -> {
			var ofRegion = pores.stream().filter((entry) -> entry.region() == region).toList();
			var progress = new PoreProgress(region,
					StageValues.of(stages, ofRegion.stream().filter((entry) -> entry.grade() != null).toList(),
							PoreEntry::assessedOn),
					StageValues.of(stages, ofRegion.stream().filter((entry) -> entry.poresPerCm2() != null).toList(),
							PoreEntry::assessedOn));
			return progress.isEmpty() ? Stream.empty() : Stream.of(progress);
		}).toList();
	}

	private boolean isEmpty() {
		return this.grades.isEmpty() && this.densities.isEmpty();
	}

	/** Means of the grades of one day by stage; {@code null} where there is none. */
	public List<@Nullable Double> gradeByStage() {
		return this.grades.means(PoreEntry::grade);
	}

	/** Means of the densities of one day by stage; {@code null} where there is none. */
	public List<@Nullable Double> densityByStage() {
		return this.densities.means(PoreEntry::poresPerCm2);
	}

	/** Change of the grade between two stages; empty without both. */
	public Optional<Double> gradeChange(int from, int to) {
		var byStage = gradeByStage();
		var before = byStage.get(from);
		var after = byStage.get(to);
		return (before != null && after != null) ? Optional.of(after - before) : Optional.empty();
	}

}
