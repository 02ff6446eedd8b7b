package org.seriatim.photograph.domain;

import java.time.LocalDateTime;

import org.jspecify.annotations.Nullable;

/**
 * A picture as it is kept: encoded anew as JPEG, upright, without anything that the
 * camera wrote into the file.
 *
 * @param whole the JPEG
 * @param small the same at most {@value PictureIntake#SMALL} pixels wide and high
 * @param width in pixels
 * @param height in pixels
 * @param sha256 of {@code whole}
 * @param source SHA-256 of the file that was sent
 * @param takenAt when the camera says that it was taken, by its own clock
 * @param camera what the camera calls itself
 */
record Picture(byte[] whole, byte[] small, int width, int height, byte[] sha256, byte[] source,
		@Nullable LocalDateTime takenAt, @Nullable String camera) {

	@Override
	public String toString() {
		return "Picture[" + this.width + " × " + this.height + "]";
	}

}
