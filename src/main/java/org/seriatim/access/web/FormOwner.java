package org.seriatim.access.web;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.Optional;
import java.util.UUID;

import jakarta.servlet.http.HttpServletRequest;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.domain.ServiceKey;

/**
 * Every form says, in a signed field, on whose page it stands. So a form that arrives
 * after its sign-in has ended can be kept for that account and for nobody else, and a
 * form that another site sends is not kept at all.
 */
final class FormOwner {

	static final String FIELD = "_owner";

	private static final String PURPOSE = "form owner";

	private final ServiceKey key;

	FormOwner(ServiceKey key) {
		this.key = key;
	}

	String mark(UUID account) {
		return account + "." + this.key.sign(PURPOSE, account.toString());
	}

	/** Whose page the form was filled in on; empty where the field was not made here. */
	Optional<UUID> of(HttpServletRequest request) {
		String field = request.getParameter(FIELD);
		return (field != null) ? account(field) : Optional.empty();
	}

	private Optional<UUID> account(String field) {
		try {
			int dot = field.indexOf('.');
			var account = (dot > 0) ? UUID.fromString(field.substring(0, dot)) : null;
			return Optional.ofNullable(account).filter((id) -> same(field, mark(id)));
		}
		catch (IllegalArgumentException ex) {
			return Optional.empty();
		}
	}

	private static boolean same(@Nullable String one, String other) {
		return one != null
				&& MessageDigest.isEqual(one.getBytes(StandardCharsets.UTF_8), other.getBytes(StandardCharsets.UTF_8));
	}

}
