package org.seriatim.assessment;

import java.util.EnumMap;
import java.util.Map;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

/**
 * Scores added up by hand from the weights and classes of Dreno B et al., Dermatology
 * 2007;214:46–51 (table from memory).
 */
class EccaTests {

	private static final long SEED = 20070046L;

	@ParameterizedTest
	@CsvSource({ "0, 0", "1, 1", "4, 1", "5, 2", "20, 2", "21, 3", "1000, 3" })
	void putsCountsIntoClasses(int count, int expected) {
		assertThat(Ecca.countClass(count)).isEqualTo(expected);
	}

	@ParameterizedTest
	@CsvSource({ "0, 0, 0, 0, 0, 0, 0, 0, 0", "12, 3, 0, 0, 0, 0, 50, 0, 50", "25, 20, 6, 1, 0, 0, 165, 0, 165",
			"4, 5, 21, 0, 2, 1, 130, 90, 220", "21, 21, 21, 21, 21, 21, 270, 270, 540", "1, 0, 0, 0, 0, 0, 15, 0, 15" })
	void addsWeightedClasses(int v, int u, int m, int e, int h, int k, int atrophic, int raised, int total) {
		var score = score(v, u, m, e, h, k);
		assertThat(score.atrophic()).isEqualTo(atrophic);
		assertThat(score.raised()).isEqualTo(raised);
		assertThat(score.total()).isEqualTo(total);
	}

	@Test
	void staysInItsRangeAndNeverFallsWhenAScarIsAdded() {
		var random = new Random(SEED);
		for (int round = 0; round < 300; round++) {
			var counts = new EnumMap<Ecca.Item, Integer>(Ecca.Item.class);
			for (Ecca.Item item : Ecca.Item.values()) {
				counts.put(item, random.nextInt(30));
			}
			var before = new Ecca(counts);
			counts.merge(Ecca.Item.values()[random.nextInt(6)], 1, Integer::sum);
			var after = new Ecca(counts);
			assertThat(before.total()).as("seed %d round %d", SEED, round)
				.isBetween(0, Ecca.WORST)
				.matches((total) -> total % 5 == 0);
			assertThat(after.total()).as("seed %d round %d", SEED, round).isGreaterThanOrEqualTo(before.total());
		}
	}

	@Test
	void refusesACountThatIsMissingOrNegative() {
		assertThatIllegalArgumentException().isThrownBy(() -> new Ecca(Map.of(Ecca.Item.V, 3)))
			.withMessageContaining("U");
		assertThatIllegalArgumentException().isThrownBy(() -> score(0, 0, 0, -1, 0, 0)).withMessageContaining("E");
		assertThatIllegalArgumentException().isThrownBy(() -> Ecca.countClass(-1));
	}

	private static Ecca score(int... counts) {
		var ofItems = new EnumMap<Ecca.Item, Integer>(Ecca.Item.class);
		for (Ecca.Item item : Ecca.Item.values()) {
			ofItems.put(item, counts[item.ordinal()]);
		}
		return new Ecca(ofItems);
	}

}
