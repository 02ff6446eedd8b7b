package org.seriatim.access.domain;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Passwords that are guessed first: those that many people choose (the file
 * {@code access/common-passwords.txt} names its source), and what runs along the
 * alphabet, the figures or a keyboard, or repeats itself.
 */
final class CommonPasswords {

	private static final String FILE = "/access/common-passwords.txt";

	/** Runs that a finger follows, each read in both directions. */
	private static final List<String> RUNS = List.of("abcdefghijklmnopqrstuvwxyz", "01234567890123456789", "qwertyuiop",
			"asdfghjkl", "zxcvbnm", "qwertzuiop", "yxcvbnm", "azertyuiop", "qsdfghjklm", "wxcvbn",
			"1q2w3e4r5t6y7u8i9o0p", "1qaz2wsx3edc4rfv5tgb6yhn7ujm8ik", "qazwsxedcrfvtgbyhnujmikolp");

	/** A shorter run than this is part of many a word. */
	private static final int SHORTEST_RUN = 3;

	private final Set<String> chosenByMany;

	private CommonPasswords(Set<String> chosenByMany) {
		this.chosenByMany = chosenByMany;
	}

	static CommonPasswords load() {
		try (var lines = new BufferedReader(
				new InputStreamReader(CommonPasswords.class.getResourceAsStream(FILE), StandardCharsets.UTF_8))) {
			return new CommonPasswords(
					lines.lines().filter((line) -> !line.startsWith("#")).collect(Collectors.toUnmodifiableSet()));
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	/**
	 * @param password in lower case
	 */
	boolean contain(String password) {
		return chosen(password) || isRepeated(password) || isMadeOfRuns(password);
	}

	/*
	 * Figures and marks before or after it, and figures that stand for letters, are what
	 * everybody adds to a common password.
	 */
	private boolean chosen(String password) {
		String bare = password.replaceAll("^[^\\p{L}]+|[^\\p{L}]+$", "");
		return this.chosenByMany.contains(password) || this.chosenByMany.contains(bare)
				|| this.chosenByMany.contains(lettered(password)) || this.chosenByMany.contains(lettered(bare));
	}

	private static String lettered(String password) {
		return password.replace('0', 'o')
			.replace('1', 'i')
			.replace('3', 'e')
			.replace('4', 'a')
			.replace('@', 'a')
			.replace('5', 's')
			.replace('$', 's')
			.replace('7', 't')
			.replace('!', 'i');
	}

	/** Whether it is one piece over and over, the last perhaps cut short. */
	private static boolean isRepeated(String password) {
		for (int period = 1; period <= password.length() / 2; period++) {
			if (password.startsWith(password.substring(period))) {
				return true;
			}
		}
		return false;
	}

	private static boolean isMadeOfRuns(String password) {
		int from = 0;
		while (from < password.length()) {
			int run = longestRun(password, from);
			if (run < SHORTEST_RUN) {
				return false;
			}
			from += run;
		}
		return true;
	}

	private static int longestRun(String password, int from) {
		int longest = sameCharacters(password, from);
		for (String run : RUNS) {
			longest = Math.max(longest, alongRun(password, from, run));
			longest = Math.max(longest, alongRun(password, from, new StringBuilder(run).reverse().toString()));
		}
		return longest;
	}

	private static int sameCharacters(String password, int from) {
		int length = 1;
		while (from + length < password.length() && password.charAt(from + length) == password.charAt(from)) {
			length++;
		}
		return length;
	}

	private static int alongRun(String password, int from, String run) {
		int length = 0;
		while (from + length < password.length() && run.contains(password.substring(from, from + length + 1))) {
			length++;
		}
		return length;
	}

}
