package org.seriatim.photograph.domain;

import java.math.BigDecimal;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;

/**
 * Two points of a picture that can be found again in another one, such as the inner
 * corners of the eyes or two moles.
 *
 * @param firstX share of the width, 0 to 1 from the left
 * @param firstY share of the height, 0 to 1 from the top
 * @param secondX share of the width
 * @param secondY share of the height
 */
@Embeddable
public record Landmarks(@Column(name = "first_x") BigDecimal firstX, @Column(name = "first_y") BigDecimal firstY,
		@Column(name = "second_x") BigDecimal secondX, @Column(name = "second_y") BigDecimal secondY) {

	/** Nearer than this share of the width, two points say nothing about a turn. */
	private static final double NEAREST = 0.02;

	/** Whether the two are far enough apart to lay a picture by them. */
	public boolean areApart() {
		return Math.hypot(this.secondX.doubleValue() - this.firstX.doubleValue(),
				this.secondY.doubleValue() - this.firstY.doubleValue()) >= NEAREST;
	}

}
