package org.seriatim.treatment;

/**
 * A clinic lead has published a protocol version. Published inside the transaction of the
 * publication, after it was written, so that what a synchronous listener does with it
 * stands or falls with it.
 */
public record ProtocolPublished(int number) {
}
