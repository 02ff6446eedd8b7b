package org.seriatim.backup.domain;

import java.io.IOException;
import java.io.InputStream;
import java.io.PushbackInputStream;
import java.security.GeneralSecurityException;
import java.util.Arrays;

import javax.crypto.Cipher;

import org.jspecify.annotations.Nullable;

/**
 * Reads what a {@link SealingStream} wrote. Gives out no byte of a chunk that is not
 * exactly as it was written, and ends only behind the last chunk.
 */
final class OpeningStream extends InputStream {

	private final PushbackInputStream in;

	private final SealHeader header;

	private final byte[] sealed;

	private byte[] plain = new byte[0];

	private int position;

	private long number;

	private boolean ended;

	/**
	 * @throws BackupRefused if this is no backup, or the passphrase is another one
	 */
	OpeningStream(InputStream in, Passphrase passphrase) throws IOException {
		this(in, SealHeader.read(in, passphrase));
	}

	/**
	 * @param in from behind the header
	 */
	private OpeningStream(InputStream in, SealHeader header) {
		this.in = new PushbackInputStream(in);
		this.header = header;
		this.sealed = new byte[this.header.chunk() + SealHeader.TAG];
	}

	/** Reads back what was just written, without deriving the keys once more. */
	static OpeningStream again(InputStream in, SealHeader written) throws IOException {
		if (!Arrays.equals(in.readNBytes(SealHeader.LENGTH), written.bytes())) {
			throw BackupRefused.damaged("The file is damaged in its first bytes.");
		}
		return new OpeningStream(in, written);
	}

	@Override
	public int read() throws IOException {
		return fill() ? this.plain[this.position++] & 0xFF : -1;
	}

	@Override
	public int read(byte[] bytes, int offset, int length) throws IOException {
		if (length == 0) {
			return 0;
		}
		if (!fill()) {
			return -1;
		}
		int given = Math.min(length, this.plain.length - this.position);
		System.arraycopy(this.plain, this.position, bytes, offset, given);
		this.position += given;
		return given;
	}

	private boolean fill() throws IOException {
		while (this.position == this.plain.length && !this.ended) {
			int length = this.in.readNBytes(this.sealed, 0, this.sealed.length);
			int next = this.in.read();
			boolean last = next < 0;
			if (!last) {
				this.in.unread(next);
			}
			byte[] opened = open(length, last);
			if (opened == null) {
				boolean cutOff = last && open(length, false) != null;
				throw BackupRefused
					.damaged(cutOff || length == 0 ? "The file ends too early: a part of the backup is missing."
							: "The file is damaged, cut off, or parts of it were exchanged, at part %d."
								.formatted(this.number + 1));
			}
			this.plain = opened;
			this.position = 0;
			this.number++;
			this.ended = last;
		}
		return this.position < this.plain.length;
	}

	private byte @Nullable [] open(int length, boolean last) {
		if (length < SealHeader.TAG) {
			return null;
		}
		try {
			return this.header.apply(Cipher.DECRYPT_MODE, this.number, last, this.sealed, length);
		}
		catch (GeneralSecurityException ex) {
			return null;
		}
	}

	@Override
	public void close() throws IOException {
		this.in.close();
	}

}
