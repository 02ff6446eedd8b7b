package org.seriatim.access.domain;

import java.time.Instant;

import org.jspecify.annotations.Nullable;

/**
 * An account and one of its sign-ins as they are now.
 *
 * @param signedInAt when the sign-in was; {@code null} if it is over, or none was asked
 * about
 * @param awaitingReview uses of emergency access that wait for a clinic lead's review; 0
 * for others
 */
public record Standing(SignedIn person, @Nullable Instant signedInAt, int awaitingReview) {
}
