package org.seriatim.access.domain;

import org.jspecify.annotations.Nullable;
import org.springframework.security.crypto.password.PasswordEncoder;

/**
 * Hashes passwords in the form NFKC of Unicode, so that one password is the same from
 * every keyboard and system (NIST SP 800-63B-4, 3.1.1.2).
 */
public final class UnicodePasswords implements PasswordEncoder {

	private final PasswordEncoder hash;

	public UnicodePasswords(PasswordEncoder hash) {
		this.hash = hash;
	}

	@Override
	public @Nullable String encode(@Nullable CharSequence password) {
		return this.hash.encode((password != null) ? PasswordRules.normalized(password) : null);
	}

	@Override
	public boolean matches(@Nullable CharSequence password, @Nullable String encoded) {
		return this.hash.matches((password != null) ? PasswordRules.normalized(password) : null, encoded);
	}

	@Override
	public boolean upgradeEncoding(@Nullable String encoded) {
		return this.hash.upgradeEncoding(encoded);
	}

}
