package org.seriatim.access.web;

import java.time.Duration;
import java.util.List;
import java.util.stream.Collectors;

import org.springframework.security.config.Customizer;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.config.annotation.web.configurers.HeadersConfigurer;
import org.springframework.security.web.header.writers.CrossOriginEmbedderPolicyHeaderWriter.CrossOriginEmbedderPolicy;
import org.springframework.security.web.header.writers.CrossOriginOpenerPolicyHeaderWriter.CrossOriginOpenerPolicy;
import org.springframework.security.web.header.writers.CrossOriginResourcePolicyHeaderWriter.CrossOriginResourcePolicy;
import org.springframework.security.web.header.writers.ReferrerPolicyHeaderWriter.ReferrerPolicy;

/**
 * What every answer forbids the browser: scripts without the page's nonce, anything
 * inline, anything from elsewhere, being framed, embedded or opened by another site,
 * telling another site where it was, the devices of the machine, and, once it has been
 * reached over TLS, being reached without it for a year.
 */
final class BrowserRules implements Customizer<HeadersConfigurer<HttpSecurity>> {

	/** One year, the least that browsers' own lists of encrypted hosts take. */
	private static final Duration ENCRYPTED_FOR = Duration.ofDays(365);

	private static final List<String> DEVICES = List.of("accelerometer", "bluetooth", "camera", "display-capture",
			"geolocation", "gyroscope", "hid", "magnetometer", "microphone", "midi", "payment", "screen-wake-lock",
			"serial", "usb", "xr-spatial-tracking");

	@Override
	public void customize(HeadersConfigurer<HttpSecurity> headers) {
		headers
			.addHeaderWriter((request, response) -> response.setHeader("Content-Security-Policy",
					contentSecurityPolicy(PageNonce.of(request))))
			.httpStrictTransportSecurity(
					(policy) -> policy.maxAgeInSeconds(ENCRYPTED_FOR.toSeconds()).includeSubDomains(false))
			.referrerPolicy((policy) -> policy.policy(ReferrerPolicy.SAME_ORIGIN))
			.permissionsPolicyHeader((policy) -> policy
				.policy(DEVICES.stream().map((device) -> device + "=()").collect(Collectors.joining(", "))))
			.crossOriginOpenerPolicy((policy) -> policy.policy(CrossOriginOpenerPolicy.SAME_ORIGIN))
			.crossOriginEmbedderPolicy((policy) -> policy.policy(CrossOriginEmbedderPolicy.REQUIRE_CORP))
			.crossOriginResourcePolicy((policy) -> policy.policy(CrossOriginResourcePolicy.SAME_ORIGIN));
	}

	/*
	 * One stylesheet brings in the others, which a nonce on its own element would not let
	 * it.
	 */
	private static String contentSecurityPolicy(String nonce) {
		return String.join("; ", "default-src 'none'", "script-src 'nonce-" + nonce + "'", "style-src 'self'",
				"img-src 'self' data:", "font-src 'self'", "connect-src 'self'", "form-action 'self'",
				"base-uri 'none'", "frame-ancestors 'none'");
	}

}
