package org.seriatim.assessment;

import org.jspecify.annotations.Nullable;

/**
 * A tracked scar as the face map draws it.
 *
 * @param label the scar's label, unique within the patient
 * @param region the region the scar is recorded in
 * @param type the scar's type, which decides the shape of the mark
 * @param depthClass the class of the last known depth, which decides the depth of the
 * mark, if one is known
 * @param x position on the map (0 to 1), {@code null} if none was recorded
 * @param y position on the map (0 to 1), {@code null} if none was recorded
 * @param responseWord {@code resolved}, {@code better}, {@code same}, {@code worse} or
 * {@code unknown}
 * @param changeText what changed against the baseline, in words as they are shown
 * @param href address of the row of the table that says the same, for example
 * {@code #scar-CHT1}
 */
public record FaceMark(String label, Region region, ScarType type, @Nullable DepthClass depthClass, @Nullable Double x,
		@Nullable Double y, String responseWord, String changeText, String href) {

	/** Whether the scar has a position of its own. */
	public boolean isPlaced() {
		return this.x != null && this.y != null;
	}

}
