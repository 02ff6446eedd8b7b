package org.seriatim.access.domain;

import java.io.Serializable;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * From where and by which way in something was done.
 *
 * @param id the sign-in or the token
 * @param command the command of the jar, with the machine's account that ran it
 * @param address where the request came from
 * @param emergency the emergency access that opened what the roles don't
 */
public record Provenance(Means means, @Nullable UUID id, @Nullable String command, @Nullable String address,
		@Nullable UUID emergency) implements Serializable {

	/** The way in. */
	public enum Means {

		SIGN_IN, TOKEN, VISITOR, COMMAND, SERVICE;

		String word() {
			return name().toLowerCase(Locale.ROOT);
		}

	}

	/** Somebody who is not signed in. */
	public static Provenance visitor(String address) {
		return new Provenance(Means.VISITOR, null, null, address, null);
	}

	/** Somebody signed in; by a sign-in that is known, but for tests. */
	public static Provenance signIn(@Nullable UUID id, String address, @Nullable UUID emergency) {
		return new Provenance(Means.SIGN_IN, id, null, address, emergency);
	}

	public static Provenance token(UUID id, String address) {
		return new Provenance(Means.TOKEN, id, null, address, null);
	}

	static Provenance command(String command) {
		return new Provenance(Means.COMMAND, null, command, null, null);
	}

	/** What the service does by itself. */
	static Provenance service() {
		return new Provenance(Means.SERVICE, null, null, null, null);
	}

}
