package org.seriatim.access;

import java.io.Serializable;
import java.time.Instant;
import java.util.UUID;

/**
 * One patient's clinical record, open for a while to somebody whose roles don't open it:
 * read only, with a reason, reviewed by a clinic lead.
 */
public record EmergencyAccess(UUID id, UUID patient, Instant endsAt) implements Serializable {
}
