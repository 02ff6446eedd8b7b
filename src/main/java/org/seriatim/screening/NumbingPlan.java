package org.seriatim.screening;

import java.util.UUID;

/**
 * How long the cream is to act before a session: so much earlier than the session starts
 * the patient has to be there.
 *
 * @param minutes 0 to 300
 */
public record NumbingPlan(UUID id, int minutes, Long version) {
}
