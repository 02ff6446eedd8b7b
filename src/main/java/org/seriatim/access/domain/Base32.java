package org.seriatim.access.domain;

/** Base32 without padding, as the apps for codes read a secret (RFC 4648, 6). */
final class Base32 {

	private static final String ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

	private static final int BITS = 5;

	private Base32() {
	}

	static String encode(byte[] bytes) {
		var text = new StringBuilder();
		int buffer = 0;
		int held = 0;
		for (byte next : bytes) {
			buffer = (buffer << Byte.SIZE | next & 0xff) & 0xffff;
			held += Byte.SIZE;
			while (held >= BITS) {
				held -= BITS;
				text.append(ALPHABET.charAt(buffer >> held & 0x1f));
			}
		}
		if (held > 0) {
			text.append(ALPHABET.charAt(buffer << BITS - held & 0x1f));
		}
		return text.toString();
	}

}
