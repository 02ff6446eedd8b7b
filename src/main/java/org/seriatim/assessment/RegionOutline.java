package org.seriatim.assessment;

import java.util.List;

/**
 * The outline of a region on the face map: a simple closed polygon.
 *
 * @param region the region
 * @param corners the corners in order around the region, the first one not repeated
 */
public record RegionOutline(Region region, List<MapPoint> corners) {

	private static final double ON_BORDER = 1e-9;

	private static final int GRID = 200;

	public RegionOutline {
		if (corners.size() < 3) {
			throw new IllegalArgumentException("corners must be at least 3, were " + corners.size());
		}
		corners = List.copyOf(corners);
	}

	/** Whether a point lies within the region or on its border. */
	public boolean contains(double x, double y) {
		if (distanceFromBorder(x, y) <= ON_BORDER) {
			return true;
		}
		// a ray to the right crosses the border of what it starts in an odd number of
		// times
		var inside = false;
		for (var i = 0; i < this.corners.size(); i++) {
			var from = this.corners.get(i);
			var to = this.corners.get((i + 1) % this.corners.size());
			if ((from.y() > y) != (to.y() > y)
					&& x < (to.x() - from.x()) * (y - from.y()) / (to.y() - from.y()) + from.x()) {
				inside = !inside;
			}
		}
		return inside;
	}

	/**
	 * The point within the region that is farthest from its border, to 1/200 of the map:
	 * unlike the centre of gravity it lies inside of crescents, too.
	 */
	MapPoint innermost() {
		var best = this.corners.get(0);
		var farthest = -1.0;
		for (var row = 0; row <= GRID; row++) {
			for (var column = 0; column <= GRID; column++) {
				var point = new MapPoint((double) column / GRID, (double) row / GRID);
				var distance = distanceFromBorder(point.x(), point.y());
				if (distance > farthest && contains(point.x(), point.y())) {
					best = point;
					farthest = distance;
				}
			}
		}
		return best;
	}

	private double distanceFromBorder(double x, double y) {
		var nearest = Double.POSITIVE_INFINITY;
		for (var i = 0; i < this.corners.size(); i++) {
			nearest = Math.min(nearest,
					distance(x, y, this.corners.get(i), this.corners.get((i + 1) % this.corners.size())));
		}
		return nearest;
	}

	private static double distance(double x, double y, MapPoint from, MapPoint to) {
		var dx = to.x() - from.x();
		var dy = to.y() - from.y();
		var length = dx * dx + dy * dy;
		var along = (length > 0) ? ((x - from.x()) * dx + (y - from.y()) * dy) / length : 0;
		var clamped = Math.max(0, Math.min(1, along));
		return Math.hypot(x - from.x() - clamped * dx, y - from.y() - clamped * dy);
	}

}
