package org.seriatim.contactlink.domain;

import org.jspecify.annotations.Nullable;

/**
 * A message as it goes.
 *
 * @param optOut where the patient says that no more of it is wanted; none before the
 * clinic has set how patients reach this service
 */
public record OutboxText(String subject, String body, @Nullable String optOut) {
}
