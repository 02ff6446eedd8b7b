package org.seriatim.assessment;

/**
 * A point of the face map, which is the unit square as one faces the patient: (0, 0) is
 * its top left corner, so the patient's right side has {@code x} below 0.5.
 *
 * @param x from the patient's right (0) to the patient's left (1)
 * @param y from above the head (0) to the base of the neck (1)
 */
public record MapPoint(double x, double y) {

	/** The same point on the other side of the face. */
	MapPoint mirrored() {
		return new MapPoint(1 - this.x, this.y);
	}

}
