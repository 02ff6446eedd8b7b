package org.seriatim.statistics;

import java.util.Arrays;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

/**
 * Agreement of raters: laws and edges. Published values are in the reference cases.
 */
class AgreementTests {

	private static final int SETS = 300;

	private static int[][] table(Random random, int k) {
		int[][] table = new int[k][k];
		for (int[] row : table) {
			Arrays.setAll(row, (j) -> random.nextInt(6));
		}
		table[0][0]++;
		table[k - 1][0]++;
		return table;
	}

	@ParameterizedTest
	@EnumSource
	void kappaDoesNotCareWhoIsFirst(WeightedKappa.Weights weights) {
		Random random = new Random(1);
		for (int set = 0; set < SETS; set++) {
			int[][] table = table(random, 4);
			int[][] turned = new int[4][4];
			int[][] reversed = new int[4][4];
			for (int i = 0; i < 4; i++) {
				for (int j = 0; j < 4; j++) {
					turned[j][i] = table[i][j];
					reversed[3 - i][3 - j] = table[i][j];
				}
			}
			WeightedKappa one = WeightedKappa.of(table, weights, 0.95);
			for (int[][] same : new int[][][] { turned, reversed }) {
				WeightedKappa other = WeightedKappa.of(same, weights, 0.95);
				assertThat(other.kappa().orElseThrow()).as("set %d", set)
					.isCloseTo(one.kappa().orElseThrow(), within(1e-12));
				assertThat(other.standardError().orElseThrow()).as("set %d", set)
					.isCloseTo(one.standardError().orElseThrow(), within(1e-9));
			}
		}
	}

	@Test
	void kappaIsThatOfTheDefinition() {
		Random random = new Random(2);
		for (int set = 0; set < SETS; set++) {
			int[][] table = table(random, 3);
			double n = Arrays.stream(table).flatMapToInt(Arrays::stream).sum();
			double observed = (table[0][0] + table[1][1] + table[2][2]) / n;
			double expected = 0;
			for (int k = 0; k < 3; k++) {
				int category = k;
				double row = Arrays.stream(table[k]).sum();
				double column = Arrays.stream(table).mapToInt((counts) -> counts[category]).sum();
				expected += row * column / (n * n);
			}
			assertThat(WeightedKappa.of(table, WeightedKappa.Weights.IDENTITY, 0.95).kappa()).as("set %d", set)
				.hasValueCloseTo((observed - expected) / (1 - expected), within(1e-12));
		}
	}

	@Test
	void fullAgreementIsOneAndOneCategoryTellsNothing() {
		WeightedKappa full = WeightedKappa.of(new int[][] { { 4, 0 }, { 0, 7 } }, WeightedKappa.Weights.LINEAR, 0.95);
		assertThat(full.kappa()).hasValueCloseTo(1.0, within(1e-12));
		assertThat(full.high()).hasValue(1);
		WeightedKappa one = WeightedKappa.of(new int[][] { { 4, 0 }, { 0, 0 } }, WeightedKappa.Weights.LINEAR, 0.95);
		assertThat(one.kappa()).isEmpty();
		assertThat(one.n()).isEqualTo(4);
		assertThat(WeightedKappa.of(new int[0][0], WeightedKappa.Weights.QUADRATIC, 0.95).kappa()).isEmpty();
		assertThat(WeightedKappa.of(new int[][] { { 3 } }, WeightedKappa.Weights.QUADRATIC, 0.95).kappa()).isEmpty();
	}

	@Test
	void refusesTablesThatAreNone() {
		assertThatIllegalArgumentException()
			.isThrownBy(() -> WeightedKappa.of(new int[][] { { 1, 2 } }, WeightedKappa.Weights.IDENTITY, 0.95));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> WeightedKappa.of(new int[][] { { -1 } }, WeightedKappa.Weights.IDENTITY, 0.95));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> WeightedKappa.of(new int[][] { { 1 } }, new double[][] { { Double.NaN } }, 0.95));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> WeightedKappa.of(new int[][] { { 1 } }, new double[][] { { 0.5 } }, 0.95));
	}

	private static double[][] ratings(Random random, int n, int k) {
		double[][] ratings = new double[n][k];
		for (double[] subject : ratings) {
			double level = 2 * random.nextGaussian();
			Arrays.setAll(subject, (j) -> level + 0.3 * j + random.nextGaussian());
		}
		return ratings;
	}

	@Test
	void theCorrelationHasNoUnitAndTheErrorHasIt() {
		Random random = new Random(3);
		for (int set = 0; set < SETS; set++) {
			double[][] ratings = ratings(random, 3 + random.nextInt(12), 2 + random.nextInt(3));
			double[][] moved = Arrays.stream(ratings)
				.map((subject) -> Arrays.stream(subject).map((rating) -> 100 + 5 * rating).toArray())
				.toArray(double[][]::new);
			IntraclassCorrelation one = IntraclassCorrelation.of(ratings, 0.95).known().orElseThrow();
			IntraclassCorrelation other = IntraclassCorrelation.of(moved, 0.95).known().orElseThrow();
			assertThat(other.icc().orElseThrow()).as("set %d", set).isCloseTo(one.icc().orElseThrow(), within(1e-9));
			assertThat(other.smallestChangeAgreement()).as("set %d", set)
				.isCloseTo(5 * one.smallestChangeAgreement(), within(1e-9));
			one.limits()
				.ifPresent((limits) -> assertThat(one.icc().orElseThrow()).isBetween(limits.low(), limits.high()));
		}
	}

	@Test
	void ofTwoRatersConsistencyIsTheSpreadOfTheirDifferences() {
		Random random = new Random(4);
		for (int set = 0; set < SETS; set++) {
			double[][] ratings = ratings(random, 12, 2);
			double[] differences = Arrays.stream(ratings).mapToDouble((pair) -> pair[0] - pair[1]).toArray();
			double mean = Arrays.stream(differences).average().orElseThrow();
			double variance = Arrays.stream(differences).map((d) -> (d - mean) * (d - mean)).sum() / 11;
			assertThat(IntraclassCorrelation.of(ratings, 0.95).known().orElseThrow().standardErrorConsistency())
				.as("set %d", set)
				.isCloseTo(Math.sqrt(variance / 2), within(1e-9));
		}
	}

	@Test
	void theCorrelationNamesItsEdges() {
		assertThat(IntraclassCorrelation.of(new double[][] { { 1, 2 } }, 0.95).known()).isEmpty();
		assertThat(IntraclassCorrelation.of(new double[][] { { 1 }, { 2 } }, 0.95).known()).isEmpty();
		assertThat(IntraclassCorrelation.of(new double[][] { { 3, 3 }, { 3, 3 } }, 0.95).known().orElseThrow().icc())
			.isEmpty();
		IntraclassCorrelation exact = IntraclassCorrelation.of(new double[][] { { 1, 1 }, { 2, 2 }, { 5, 5 } }, 0.95)
			.known()
			.orElseThrow();
		assertThat(exact.icc()).hasValueCloseTo(1.0, within(1e-12));
		assertThat(exact.limits()).isEmpty();
		assertThatIllegalArgumentException()
			.isThrownBy(() -> IntraclassCorrelation.of(new double[][] { { 1, 2 }, { 1 } }, 0.95));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> IntraclassCorrelation.of(new double[][] { { 1, Double.NaN } }, 0.95));
	}

}
