package org.seriatim.access.domain;

import org.seriatim.access.Sha256;

import java.security.SecureRandom;
import java.util.Locale;
import java.util.stream.Collectors;

/**
 * A secret that a person copies by hand or hands over: 24 letters and figures in groups
 * of four, none of which is mistaken for another. Its 118 bits are more than the 112 from
 * which a plain hash is enough to keep it (NIST SP 800-63B-4, 3.1.2.2).
 */
final class SpokenCode {

	private static final String ALPHABET = "abcdefghjkmnpqrstuvwxyz23456789";

	private static final int LENGTH = 24;

	private static final int GROUP = 4;

	private static final SecureRandom RANDOM = new SecureRandom();

	private SpokenCode() {
	}

	static String next() {
		String letters = RANDOM.ints(LENGTH, 0, ALPHABET.length())
			.mapToObj((index) -> String.valueOf(ALPHABET.charAt(index)))
			.collect(Collectors.joining());
		return letters.replaceAll("(.{" + GROUP + "})(?!$)", "$1-");
	}

	/** What is kept of it: the hash of its letters, however they were grouped. */
	static byte[] hash(String typed) {
		return Sha256.of(letters(typed));
	}

	private static String letters(String typed) {
		return typed.toLowerCase(Locale.ROOT).replaceAll("[\\s-]", "");
	}

}
