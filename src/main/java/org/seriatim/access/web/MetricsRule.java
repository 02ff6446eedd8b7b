package org.seriatim.access.web;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.function.Supplier;

import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpHeaders;
import org.springframework.security.authorization.AuthorizationDecision;
import org.springframework.security.authorization.AuthorizationManager;
import org.springframework.security.core.Authentication;
import org.springframework.security.web.access.intercept.RequestAuthorizationContext;

/**
 * Opens the figures about the service to whoever shows the token of the configuration,
 * which opens nothing else, and to nobody else: no account has that right, so that no
 * account's token lies on the machine of the monitoring system.
 */
final class MetricsRule implements AuthorizationManager<RequestAuthorizationContext> {

	private static final String SCHEME = "Bearer ";

	private final @Nullable String token;

	MetricsRule(MetricsSettings settings) {
		this.token = settings.token();
	}

	@Override
	public AuthorizationDecision authorize(Supplier<? extends @Nullable Authentication> authentication,
			RequestAuthorizationContext context) {
		String shown = context.getRequest().getHeader(HttpHeaders.AUTHORIZATION);
		return new AuthorizationDecision(this.token != null && shown != null && shown.startsWith(SCHEME)
				&& MessageDigest.isEqual(bytes(this.token), bytes(shown.substring(SCHEME.length()).strip())));
	}

	private static byte[] bytes(String text) {
		return text.getBytes(StandardCharsets.UTF_8);
	}

}
