package org.seriatim.assessment.web;

import java.util.Arrays;

/**
 * Moves marks apart until none covers another, each as little as possible from where it
 * belongs. The same marks always come to lie in the same places.
 *
 * @param width width that a mark needs
 * @param height height that a mark needs
 * @param right right edge of the drawing; the left one is 0
 * @param bottom bottom edge of the drawing; the top one is 0
 */
record MarkSpacing(double width, double height, double right, double bottom) {

	private static final int ROUNDS = 400;

	/* How strongly a mark is drawn home in each round of the first half. */
	private static final double PULL = 0.04;

	/**
	 * Places for the marks.
	 * @param homes where the marks belong, as x and y of each
	 * @return where to draw them
	 */
	double[][] spread(double[][] homes) {
		var places = Arrays.stream(homes).map(double[]::clone).toArray(double[][]::new);
		for (var round = 0; round < ROUNDS; round++) {
			var moved = false;
			for (var i = 0; i < places.length; i++) {
				for (var j = i + 1; j < places.length; j++) {
					moved |= part(places[i], places[j]);
				}
			}
			if (!moved) {
				break;
			}
			for (var i = 0; i < places.length; i++) {
				if (round < ROUNDS / 2) {
					places[i][0] += PULL * (homes[i][0] - places[i][0]);
					places[i][1] += PULL * (homes[i][1] - places[i][1]);
				}
				places[i][0] = within(places[i][0], this.width / 2, this.right - this.width / 2);
				places[i][1] = within(places[i][1], this.height / 2, this.bottom - this.height / 2);
			}
		}
		return places;
	}

	/* Moves two marks apart where that is the shorter way; the later one goes on. */
	private boolean part(double[] one, double[] other) {
		var dx = other[0] - one[0];
		var dy = other[1] - one[1];
		var coveredX = this.width - Math.abs(dx);
		var coveredY = this.height - Math.abs(dy);
		if (coveredX <= 0.01 || coveredY <= 0.01) {
			return false;
		}
		if (coveredX / this.width < coveredY / this.height) {
			var step = ((dx < 0) ? -1 : 1) * coveredX / 2;
			one[0] -= step;
			other[0] += step;
		}
		else {
			var step = ((dy < 0) ? -1 : 1) * coveredY / 2;
			one[1] -= step;
			other[1] += step;
		}
		return true;
	}

	private static double within(double value, double least, double most) {
		return Math.max(least, Math.min(most, value));
	}

}
