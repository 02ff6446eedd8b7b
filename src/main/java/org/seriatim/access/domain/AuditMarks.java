package org.seriatim.access.domain;

import java.nio.ByteBuffer;
import java.security.GeneralSecurityException;
import java.time.Instant;
import java.time.temporal.ChronoUnit;

import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

import org.jspecify.annotations.Nullable;

/**
 * Makes the marks of entries and the hashes of seals: HMAC-SHA-256 under two keys derived
 * from the installation's, so that neither can stand in for the other. For one thread.
 */
final class AuditMarks {

	/** What stands before the first seal. */
	static final byte[] START = new byte[32];

	private static final String MAC = "HmacSHA256";

	private static final int NONE = -1;

	private final Mac entries;

	private final Mac chain;

	AuditMarks(ServiceKey key) {
		this.entries = under(key.forPurpose("audit entry"));
		this.chain = under(key.forPurpose("audit chain"));
	}

	private static Mac under(byte[] key) {
		try {
			var mac = Mac.getInstance(MAC);
			mac.init(new SecretKeySpec(key, MAC));
			return mac;
		}
		catch (GeneralSecurityException ex) {
			throw new IllegalStateException("every Java platform has " + MAC, ex);
		}
	}

	/** The mark that an entry is written with. */
	byte[] mark(byte[] content) {
		return this.entries.doFinal(content);
	}

	/**
	 * The hash of one seal, over all before it.
	 * @param previous the hash of the seal before, {@link #START} for the first
	 * @param id the entry's
	 * @param content the entry's
	 * @param mark the entry's, none for one of before
	 * @param fromBefore whether the seal says that the entry is of before marks were made
	 */
	byte[] hash(byte[] previous, long position, Instant sealedAt, boolean fromBefore, long id, byte[] content,
			byte @Nullable [] mark) {
		var head = ByteBuffer.allocate(3 * Long.BYTES + Byte.BYTES + Integer.BYTES);
		head.putLong(position)
			.putLong(ChronoUnit.MICROS.between(Instant.EPOCH, sealedAt))
			.put((byte) (fromBefore ? 1 : 0));
		head.putLong(id).putInt((mark != null) ? mark.length : NONE);
		this.chain.update(previous);
		this.chain.update(head.array());
		if (mark != null) {
			this.chain.update(mark);
		}
		return this.chain.doFinal(content);
	}

}
