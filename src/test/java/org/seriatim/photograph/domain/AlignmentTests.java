package org.seriatim.photograph.domain;

import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

/** Laying one picture upon another by two points (worked by hand). */
class AlignmentTests {

	@ParameterizedTest
	@CsvSource({
			// the same two points: nothing moves
			"100 100 300 100, 100 100 300 100, 1, 0, 0, 0",
			// moved by 5 to the right and 7 up
			"105 93 305 93, 100 100 300 100, 1, 0, 5, -7",
			// twice as far apart: twice as large
			"0 0 400 0, 0 0 200 0, 2, 0, 0, 0",
			// from level to upright: a quarter turn clockwise on the screen
			"0 0 0 200, 0 0 200 0, 1, 90, 0, 0" })
	void turnsScalesAndMoves(String below, String laid, double scale, double turn, double moveX, double moveY) {
		var alignment = Alignment.of(numbers(below), numbers(laid));
		assertThat(alignment.scale()).isCloseTo(scale, within(1e-12));
		assertThat(alignment.turnDegrees()).isCloseTo(turn, within(1e-9));
		assertThat(alignment.moveX()).isCloseTo(moveX, within(1e-9));
		assertThat(alignment.moveY()).isCloseTo(moveY, within(1e-9));
	}

	private static double[] numbers(String text) {
		return java.util.Arrays.stream(text.split(" ")).mapToDouble(Double::parseDouble).toArray();
	}

	@Test
	void bringsEachPointOntoItsFellow() {
		var random = new Random(3);
		for (int time = 0; time < 500; time++) {
			var below = random.doubles(4, 0, 4000).toArray();
			var laid = random.doubles(4, 0, 4000).toArray();
			var alignment = Alignment.of(below, laid);
			for (int point = 0; point < 4; point += 2) {
				double x = laid[point];
				double y = laid[point + 1];
				assertThat(alignment.a() * x - alignment.b() * y + alignment.moveX()).isCloseTo(below[point],
						within(1e-6));
				assertThat(alignment.b() * x + alignment.a() * y + alignment.moveY()).isCloseTo(below[point + 1],
						within(1e-6));
			}
		}
	}

	@Test
	void cannotLayByOnePoint() {
		assertThatIllegalArgumentException()
			.isThrownBy(() -> Alignment.of(new double[] { 0, 0, 1, 1 }, new double[] { 5, 5, 5, 5 }));
	}

}
