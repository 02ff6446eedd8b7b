package org.seriatim.contactlink.domain;

import java.util.UUID;
import java.util.regex.Pattern;

import org.seriatim.access.InstallationKey;
import org.seriatim.access.Sha256;

/**
 * The secrets of links: the installation's signature under a link's random id, 256 bits.
 * Only their hashes are kept. Since the key is not in the database, whoever has the
 * database opens no link; since the signature can be made again, mail that waits needs no
 * copy of the secret.
 */
final class LinkToken {

	private static final Pattern FORM = Pattern.compile("[A-Za-z0-9_-]{43}");

	private LinkToken() {
	}

	static String of(UUID link, InstallationKey key) {
		return key.sign("contact link", link.toString());
	}

	/** The secret by which a reminder's recipient says that no more are wanted. */
	static String ofReminder(UUID message, InstallationKey key) {
		return key.sign("no reminders", message.toString());
	}

	/** Whether it could be one at all. */
	static boolean hasTheForm(String token) {
		return FORM.matcher(token).matches();
	}

	/**
	 * By what a link is found. What the time of a look-up tells of the hash leads to no
	 * token.
	 */
	static byte[] hash(String token) {
		return Sha256.of(token);
	}

}
