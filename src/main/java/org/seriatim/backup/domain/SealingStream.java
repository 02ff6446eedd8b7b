package org.seriatim.backup.domain;

import java.io.IOException;
import java.io.OutputStream;
import java.security.GeneralSecurityException;

import javax.crypto.Cipher;

/**
 * Writes a file that only the passphrase opens, chunk by chunk, in the form that
 * {@link SealHeader} describes. It is whole only after {@link #finish()}.
 */
final class SealingStream extends OutputStream {

	private final OutputStream out;

	private final SealHeader header;

	private final byte[] plain;

	private int filled;

	private long number;

	SealingStream(OutputStream out, SealHeader header) throws IOException {
		this.out = out;
		this.header = header;
		this.plain = new byte[header.chunk()];
		out.write(header.bytes());
	}

	@Override
	public void write(int one) throws IOException {
		write(new byte[] { (byte) one }, 0, 1);
	}

	@Override
	public void write(byte[] bytes, int offset, int length) throws IOException {
		int from = offset;
		int left = length;
		while (left > 0) {
			// a full chunk waits for what follows: the last one is sealed as the last
			if (this.filled == this.plain.length) {
				seal(false);
			}
			int taken = Math.min(left, this.plain.length - this.filled);
			System.arraycopy(bytes, from, this.plain, this.filled, taken);
			this.filled += taken;
			from += taken;
			left -= taken;
		}
	}

	void finish() throws IOException {
		seal(true);
		this.out.flush();
	}

	private void seal(boolean last) throws IOException {
		try {
			this.out.write(this.header.apply(Cipher.ENCRYPT_MODE, this.number, last, this.plain, this.filled));
		}
		catch (GeneralSecurityException ex) {
			throw new IllegalStateException("a chunk cannot be encrypted", ex);
		}
		this.number++;
		this.filled = 0;
	}

}
