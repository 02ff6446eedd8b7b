package org.seriatim.assessment;

import java.time.LocalDate;
import java.util.EnumMap;
import java.util.Map;

import org.junit.jupiter.api.Test;
import org.seriatim.access.StaffId;

import static org.assertj.core.api.Assertions.assertThat;

class FaceCountTests {

	private static final LocalDate DAY = LocalDate.of(2026, 11, 20);

	private final Map<Region, Map<CountedType, Integer>> counts = new EnumMap<>(Region.class);

	@Test
	void isCompleteWhenEveryRegionOfTheFaceHasEachScoredType() {
		fillWithZeros();
		set(Region.CHEEK_MEDIAL_LEFT, CountedType.ICE_PICK, 8);
		set(Region.FOREHEAD, CountedType.ICE_PICK, 4);
		set(Region.CHIN, CountedType.BOXCAR, 3);
		assertThat(count().missing()).isZero();
		// 12 of V and 3 of U: 2 x 15 + 1 x 20 (clinical basis, worked example 1)
		assertThat(count().ecca().orElseThrow().total()).isEqualTo(50);
	}

	@Test
	void hasNoScoreWhileOneCellWasNotCounted() {
		fillWithZeros();
		this.counts.get(Region.NOSE).remove(CountedType.ELASTOLYSIS);
		assertThat(count().missing()).isEqualTo(1);
		assertThat(count().ecca()).isEmpty();
	}

	@Test
	void leavesTheNeckAndTypesWithoutAnItemOutOfTheScore() {
		fillWithZeros();
		set(Region.NECK, CountedType.KELOID, 30);
		set(Region.CHIN, CountedType.LINEAR, 30);
		set(Region.CHIN, CountedType.MACULAR, 30);
		assertThat(count().ecca().orElseThrow().total()).isZero();
	}

	@Test
	void tellsHowMuchOfAnEmptyCountIsMissing() {
		// 17 regions of the face, six types
		assertThat(count().missing()).isEqualTo(102);
	}

	private void fillWithZeros() {
		FaceCount.faceRegions().forEach((region) -> FaceCount.scoredTypes().forEach((type) -> set(region, type, 0)));
	}

	private void set(Region region, CountedType type, int count) {
		this.counts.computeIfAbsent(region, (ignored) -> new EnumMap<>(CountedType.class)).put(type, count);
	}

	private FaceCount count() {
		return new FaceCount(DAY, StaffId.next(), this.counts);
	}

}
