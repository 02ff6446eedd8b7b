package org.seriatim.assessment.domain;

import java.math.BigDecimal;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;

/**
 * A place on the face map, as one faces the patient.
 *
 * @param x 0 to 1; the patient's right has x below 0.5
 * @param y 0, the top, to 1
 */
@Embeddable
public record MapPosition(@Column(name = "map_x") BigDecimal x, @Column(name = "map_y") BigDecimal y) {

	public MapPosition {
		requireShare("x", x);
		requireShare("y", y);
	}

	private static void requireShare(String name, BigDecimal value) {
		if (value.signum() < 0 || value.compareTo(BigDecimal.ONE) > 0) {
			throw new IllegalArgumentException(name + " must be from 0 to 1, was " + value);
		}
	}

}
