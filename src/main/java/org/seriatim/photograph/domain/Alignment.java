package org.seriatim.photograph.domain;

/**
 * The similarity that lays a picture upon another one: turned, scaled evenly and moved so
 * that its two landmarks fall upon the other's. A point (x, y), in pixels, comes to lie
 * at (a x − b y + moveX, b x + a y + moveY).
 *
 * <p>
 * With the landmarks as complex numbers p1, p2 (of the picture that is laid) and q1, q2
 * (of the one below), a + ib = (q2 − q1) / (p2 − p1) and the move is q1 − (a + ib) p1:
 * two pairs of points determine a similarity of the plane (textbook geometry).
 *
 * @param a scale times the cosine of the turn
 * @param b scale times the sine of the turn
 * @param moveX in pixels of the picture below
 * @param moveY in pixels of the picture below
 */
public record Alignment(double a, double b, double moveX, double moveY) {

	/**
	 * @param below the picture that stays as it is
	 * @param laid the picture that is laid upon it
	 * @throws IllegalArgumentException if two landmarks of a picture lie on each other
	 */
	public static Alignment of(Photograph below, Photograph laid) {
		return of(points(below), points(laid));
	}

	/**
	 * @param below x and y of the first and of the second point, in pixels
	 * @param laid the same points in the picture that is laid, in its pixels
	 */
	static Alignment of(double[] below, double[] laid) {
		double px = laid[2] - laid[0];
		double py = laid[3] - laid[1];
		double qx = below[2] - below[0];
		double qy = below[3] - below[1];
		double square = px * px + py * py;
		if (square == 0 || qx * qx + qy * qy == 0) {
			throw new IllegalArgumentException("two landmarks lie on each other");
		}
		double a = (qx * px + qy * py) / square;
		double b = (qy * px - qx * py) / square;
		return new Alignment(a, b, below[0] - a * laid[0] + b * laid[1], below[1] - b * laid[0] - a * laid[1]);
	}

	private static double[] points(Photograph photograph) {
		var landmarks = photograph.landmarks().orElseThrow();
		return new double[] { landmarks.firstX().doubleValue() * photograph.width(),
				landmarks.firstY().doubleValue() * photograph.height(),
				landmarks.secondX().doubleValue() * photograph.width(),
				landmarks.secondY().doubleValue() * photograph.height() };
	}

	/** How much larger the laid picture becomes. */
	public double scale() {
		return Math.hypot(this.a, this.b);
	}

	/** How far it is turned, in degrees, clockwise on a screen. */
	public double turnDegrees() {
		return Math.toDegrees(Math.atan2(this.b, this.a));
	}

}
