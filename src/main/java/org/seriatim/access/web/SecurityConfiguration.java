package org.seriatim.access.web;

import java.io.IOException;
import java.util.Map;

import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.seriatim.access.domain.ApiTokens;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.crypto.bcrypt.BCryptPasswordEncoder;
import org.springframework.security.crypto.password.DelegatingPasswordEncoder;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.security.web.access.intercept.AuthorizationFilter;
import org.springframework.security.web.authentication.LoginUrlAuthenticationEntryPoint;
import org.springframework.security.web.authentication.UsernamePasswordAuthenticationFilter;
import org.springframework.security.web.header.writers.ReferrerPolicyHeaderWriter.ReferrerPolicy;
import org.springframework.security.web.servlet.util.matcher.PathPatternRequestMatcher;

@Configuration(proxyBeanMethods = false)
class SecurityConfiguration {

	/** Nothing inline, nothing from elsewhere, never framed. */
	private static final String CONTENT_SECURITY_POLICY = String.join("; ", "default-src 'none'", "script-src 'self'",
			"style-src 'self'", "img-src 'self' data:", "font-src 'self'", "connect-src 'self'", "form-action 'self'",
			"base-uri 'none'", "frame-ancestors 'none'");

	/**
	 * PBKDF2 takes passwords of any length, unlike bcrypt, which is read but no longer
	 * written.
	 */
	@Bean
	static PasswordEncoder passwordEncoder() {
		String current = "pbkdf2";
		return new DelegatingPasswordEncoder(current, Map.of(current,
				Pbkdf2PasswordEncoder.defaultsForSpringSecurity_v5_8(), "bcrypt", new BCryptPasswordEncoder()));
	}

	@Bean
	@ConditionalOnWebApplication
	SecurityFilterChain closedByDefault(HttpSecurity http, ApiTokens tokens) {
		http.authorizeHttpRequests((requests) -> {
			for (Routes.Route route : Routes.all()) {
				var matched = requests
					.requestMatchers(PathPatternRequestMatcher.withDefaults().matcher(route.method(), route.pattern()));
				if (route.open()) {
					matched.permitAll();
				}
				else {
					matched.hasAnyRole(route.roles().stream().map(Enum::name).toArray(String[]::new));
				}
			}
			requests.anyRequest().denyAll();
		});
		http.formLogin((form) -> form.loginPage("/sign-in")
			.usernameParameter("name")
			.defaultSuccessUrl("/")
			.failureUrl("/sign-in?refused"));
		http.logout((logout) -> logout.logoutUrl("/sign-out").logoutSuccessUrl("/sign-in?signed-out"));
		http.addFilterBefore(new BearerTokenFilter(tokens), UsernamePasswordAuthenticationFilter.class);
		http.addFilterAfter(new OneTimePasswordFilter(), AuthorizationFilter.class);
		http.exceptionHandling((handling) -> handling.authenticationEntryPoint(new SignInEntryPoint()));
		http.headers(
				(headers) -> headers.contentSecurityPolicy((policy) -> policy.policyDirectives(CONTENT_SECURITY_POLICY))
					.referrerPolicy((policy) -> policy.policy(ReferrerPolicy.SAME_ORIGIN)));
		return http.build();
	}

	/**
	 * Sends a person to the sign-in page; tells a script, or a page that asks for a part
	 * of itself, that it must.
	 */
	private static final class SignInEntryPoint extends LoginUrlAuthenticationEntryPoint {

		SignInEntryPoint() {
			super("/sign-in");
		}

		@Override
		public void commence(HttpServletRequest request, HttpServletResponse response, AuthenticationException reason)
				throws IOException, ServletException {
			if (request.getHeader("HX-Request") != null) {
				response.setHeader("HX-Refresh", "true");
				response.setStatus(HttpStatus.UNAUTHORIZED.value());
			}
			else if (request.getHeader(HttpHeaders.AUTHORIZATION) != null) {
				response.setHeader(HttpHeaders.WWW_AUTHENTICATE, "Bearer");
				response.setStatus(HttpStatus.UNAUTHORIZED.value());
			}
			else {
				super.commence(request, response, reason);
			}
		}

	}

}
