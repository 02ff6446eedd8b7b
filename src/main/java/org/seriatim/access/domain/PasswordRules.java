package org.seriatim.access.domain;

import java.text.Normalizer;
import java.text.Normalizer.Form;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

import org.seriatim.access.PassphraseRules;
import org.springframework.stereotype.Component;

/**
 * Which passwords are taken: long enough, and none that is guessed first. Nothing has to
 * be mixed in, and none expires (NIST SP 800-63B-4, 3.1.1.2; OWASP ASVS 5.0.0, 6.2).
 */
@Component
public class PasswordRules implements PassphraseRules {

	/** In characters, where the password stands alone. */
	public static final int SHORTEST_ALONE = 15;

	/** In characters, where a second factor stands beside it. */
	public static final int SHORTEST_WITH_SECOND_FACTOR = 8;

	/** Longer input costs hashing time and adds nothing. */
	public static final int LONGEST = 128;

	/** What must be left when the words that everybody knows are taken out. */
	private static final int LEAST_BESIDE_KNOWN_WORDS = 6;

	/** A shorter part of a name is part of many a word. */
	private static final int SHORTEST_PART_OF_NAME = 4;

	private final CommonPasswords common = CommonPasswords.load();

	private final List<String> ownWords;

	PasswordRules(SignInSettings settings) {
		this.ownWords = new ArrayList<>(settings.ownWords());
		this.ownWords.add("seriatim");
	}

	public static int shortest(boolean secondFactor) {
		return secondFactor ? SHORTEST_WITH_SECOND_FACTOR : SHORTEST_ALONE;
	}

	/** Whether it may be used without a second factor. */
	static boolean standsAlone(String password) {
		return length(password) >= SHORTEST_ALONE;
	}

	/**
	 * @param name of whom it is to be
	 * @throws PasswordRefused naming the rule that it breaks
	 */
	void check(String password, String name, boolean secondFactor) {
		int length = length(password);
		if (length < shortest(secondFactor)) {
			throw new PasswordRefused("too-short", shortest(secondFactor));
		}
		if (length > LONGEST) {
			throw new PasswordRefused("too-long", LONGEST);
		}
		String plain = normalized(password).toLowerCase(Locale.ROOT);
		if (this.common.contain(plain)) {
			throw new PasswordRefused("too-common", 0);
		}
		if (restsOnKnownWords(plain, name)) {
			throw new PasswordRefused("too-easy", 0);
		}
	}

	@Override
	public Optional<Broken> broken(String passphrase) {
		try {
			check(passphrase, "", false);
			return Optional.empty();
		}
		catch (PasswordRefused ex) {
			return Optional.of(new Broken("access.password." + ex.rule(), ex.limit()));
		}
	}

	/**
	 * In this form it is compared: what looks the same on another keyboard is the same.
	 */
	static String normalized(CharSequence password) {
		return Normalizer.normalize(password, Form.NFKC);
	}

	private static int length(String password) {
		String compared = normalized(password);
		return compared.codePointCount(0, compared.length());
	}

	private boolean restsOnKnownWords(String password, String name) {
		String rest = password;
		for (String word : knownWords(name)) {
			rest = rest.replace(word, "");
		}
		return rest.length() < password.length()
				&& rest.replaceAll("[^\\p{L}]", "").length() < LEAST_BESIDE_KNOWN_WORDS;
	}

	private List<String> knownWords(String name) {
		var words = new ArrayList<String>();
		words.add(name);
		for (String part : name.split("[^\\p{L}]+")) {
			if (part.length() >= SHORTEST_PART_OF_NAME) {
				words.add(part);
			}
		}
		words.addAll(this.ownWords);
		return words.stream()
			.map((word) -> normalized(word).toLowerCase(Locale.ROOT))
			.filter((word) -> !word.isBlank())
			.sorted(Comparator.comparingInt(String::length).reversed())
			.toList();
	}

}
