package org.seriatim.photograph.domain;

/** A file is not kept as a photograph. */
public class PictureRefused extends RuntimeException {

	private final Reason reason;

	PictureRefused(Reason reason) {
		super("refused: " + reason);
		this.reason = reason;
	}

	PictureRefused(Reason reason, Throwable cause) {
		super("refused: " + reason, cause);
		this.reason = reason;
	}

	public Reason reason() {
		return this.reason;
	}

	/** Why not. */
	public enum Reason {

		/** There is nothing in it. */
		EMPTY,
		/** It is larger than a file may be. */
		TOO_LARGE,
		/** It is neither JPEG nor PNG, whatever its name says. */
		NOT_A_PICTURE,
		/** It has more pixels than can be read safely. */
		TOO_MANY_PIXELS,
		/** It has too few pixels to show anything. */
		TOO_FEW_PIXELS,
		/** It ends too early, or its content makes no picture. */
		DAMAGED,
		/** Others are being read; the same file can be sent again. */
		BUSY,
		/** It could not be written to the disk. */
		NO_ROOM

	}

}
