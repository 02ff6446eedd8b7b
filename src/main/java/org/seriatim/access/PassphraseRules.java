package org.seriatim.access;

import java.util.Optional;

/** Which passphrases are taken that stand alone: the same as for passwords. */
public interface PassphraseRules {

	/**
	 * The rule that it breaks, if it breaks one.
	 */
	Optional<Broken> broken(String passphrase);

	/**
	 * @param message key of the message that says what to do
	 * @param limit the number of characters of which the message speaks, 0 for none
	 */
	record Broken(String message, int limit) {
	}

}
