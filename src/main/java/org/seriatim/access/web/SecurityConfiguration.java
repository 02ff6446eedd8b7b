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
import org.springframework.security.config.ObjectPostProcessor;
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
import org.springframework.security.web.context.SecurityContextHolderFilter;
import org.springframework.security.web.servlet.util.matcher.PathPatternRequestMatcher;

@Configuration(proxyBeanMethods = false)
class SecurityConfiguration {

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
	SecurityFilterChain closedByDefault(HttpSecurity http, ApiTokens tokens, RequestSettings requestSettings) {
		http.authorizeHttpRequests((requests) -> {
			// the page of an error is made for whoever caused it, and for nobody who asks
			// for it
			requests.withObjectPostProcessor(new ObjectPostProcessor<AuthorizationFilter>() {

				@Override
				public <F extends AuthorizationFilter> F postProcess(F authorization) {
					authorization.setFilterErrorDispatch(false);
					return authorization;
				}

			});
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
		http.addFilterAfter(new RequestRateFilter(requestSettings), SecurityContextHolderFilter.class);
		http.addFilterBefore(new BearerTokenFilter(tokens), UsernamePasswordAuthenticationFilter.class);
		http.addFilterAfter(new OneTimePasswordFilter(), AuthorizationFilter.class);
		http.exceptionHandling((handling) -> handling.authenticationEntryPoint(new SignInEntryPoint()));
		http.headers(new BrowserRules());
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
