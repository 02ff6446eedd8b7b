package org.seriatim.access.web;

import java.util.LinkedHashMap;
import java.util.Map;

import jakarta.servlet.http.HttpServletRequest;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.domain.SignedIn;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.servlet.support.RequestDataValueProcessor;

/**
 * Adds to every form of a person signed in whose it is, beside the token against forgery.
 */
final class OwnedForms implements RequestDataValueProcessor {

	private final RequestDataValueProcessor tokens;

	private final FormOwner owner;

	OwnedForms(RequestDataValueProcessor tokens, FormOwner owner) {
		this.tokens = tokens;
		this.owner = owner;
	}

	@Override
	public String processAction(HttpServletRequest request, String action, String method) {
		return this.tokens.processAction(request, action, method);
	}

	@Override
	public String processFormFieldValue(HttpServletRequest request, @Nullable String name, String value, String type) {
		return this.tokens.processFormFieldValue(request, name, value, type);
	}

	@Override
	public @Nullable Map<String, String> getExtraHiddenFields(HttpServletRequest request) {
		var fields = this.tokens.getExtraHiddenFields(request);
		var authentication = SecurityContextHolder.getContext().getAuthentication();
		if (fields == null || fields.isEmpty() || authentication == null
				|| !(authentication.getPrincipal() instanceof SignedIn person)) {
			return fields;
		}
		var owned = new LinkedHashMap<>(fields);
		owned.put(FormOwner.FIELD, this.owner.mark(person.account()));
		return owned;
	}

	@Override
	public String processUrl(HttpServletRequest request, String url) {
		return this.tokens.processUrl(request, url);
	}

}
