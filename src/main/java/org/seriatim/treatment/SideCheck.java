package org.seriatim.treatment;

import jakarta.persistence.Embeddable;
import org.jspecify.annotations.Nullable;

/**
 * What was felt and done on one side of the face after the injections; {@code null} is
 * unknown.
 */
@Embeddable
public record SideCheck(@Nullable Boolean even, @Nullable Boolean lumpFelt, @Nullable Boolean compressed,
		@Nullable Boolean massaged, @Nullable Boolean ointment) {

	/** Nothing of it is known. */
	public static final SideCheck UNKNOWN = new SideCheck(null, null, null, null, null);

}
