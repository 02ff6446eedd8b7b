package org.seriatim.access.web;

import java.time.Clock;
import java.util.Map;

import org.seriatim.access.domain.ApiTokens;
import org.seriatim.access.domain.EmergencyAccesses;
import org.seriatim.access.domain.ServiceKey;
import org.seriatim.access.domain.SignInSettings;
import org.seriatim.access.domain.SignIns;
import org.seriatim.access.domain.Standings;
import org.seriatim.access.domain.UnicodePasswords;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.beans.factory.config.BeanPostProcessor;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.http.HttpMethod;
import org.springframework.security.config.ObjectPostProcessor;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.crypto.bcrypt.BCryptPasswordEncoder;
import org.springframework.security.crypto.password.DelegatingPasswordEncoder;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder.SecretKeyFactoryAlgorithm;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.security.web.access.intercept.AuthorizationFilter;
import org.springframework.security.web.authentication.UsernamePasswordAuthenticationFilter;
import org.springframework.security.web.authentication.logout.HeaderWriterLogoutHandler;
import org.springframework.security.web.context.SecurityContextHolderFilter;
import org.springframework.security.web.csrf.CsrfFilter;
import org.springframework.security.web.csrf.CsrfTokenRepository;
import org.springframework.security.web.csrf.HttpSessionCsrfTokenRepository;
import org.springframework.security.web.header.writers.ClearSiteDataHeaderWriter;
import org.springframework.security.web.header.writers.ClearSiteDataHeaderWriter.Directive;
import org.springframework.security.web.servlet.util.matcher.PathPatternRequestMatcher;
import org.springframework.session.config.SessionRepositoryCustomizer;
import org.springframework.session.jdbc.JdbcIndexedSessionRepository;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;
import org.springframework.web.servlet.support.RequestDataValueProcessor;

@Configuration(proxyBeanMethods = false)
class SecurityConfiguration {

	/**
	 * PBKDF2 takes passwords of any length, unlike bcrypt. As many rounds as OWASP's
	 * Password Storage Cheat Sheet asks for (2023); what was hashed with fewer, or by
	 * bcrypt, is read and hashed anew at the next sign-in.
	 */
	@Bean
	static PasswordEncoder passwordEncoder() {
		var current = "pbkdf2-600000";
		return new UnicodePasswords(new DelegatingPasswordEncoder(current, Map.of(current,
				new Pbkdf2PasswordEncoder("", 16, 600_000, SecretKeyFactoryAlgorithm.PBKDF2WithHmacSHA256), "pbkdf2",
				Pbkdf2PasswordEncoder.defaultsForSpringSecurity_v5_8(), "bcrypt", new BCryptPasswordEncoder())));
	}

	/**
	 * Spring Session's own ids are guessable by six bits too many, and its own query
	 * leaves the rows of several sessions in any order, but reads each session from rows
	 * that follow each other: without an order, sessions are listed in pieces, and
	 * without their sign-in. Of two requests that add the same to a session at once, the
	 * second would fail, and so would one whose session is ended by another.
	 */
	@Bean
	@ConditionalOnWebApplication
	SessionRepositoryCustomizer<JdbcIndexedSessionRepository> wholeSessions() {
		return (sessions) -> {
			sessions.setSessionIdGenerator(new SessionIds());
			sessions.setCreateSessionAttributeQuery(
					"""
							insert into %TABLE_NAME%_attributes (session_primary_id, attribute_name, attribute_bytes)
							select s.primary_id, added.name, added.bytes
							from (values (cast(? as bpchar), cast(? as varchar), cast(? as bytea))) added (id, name, bytes)
								join %TABLE_NAME% s on s.primary_id = added.id
							for key share of s
							on conflict (session_primary_id, attribute_name) do update set attribute_bytes = excluded.attribute_bytes""");
			sessions.setListSessionsByPrincipalNameQuery("""
					select s.primary_id, s.session_id, s.creation_time, s.last_access_time, s.max_inactive_interval,
						sa.attribute_name, sa.attribute_bytes
					from %TABLE_NAME% s
					left join %TABLE_NAME%_attributes sa on s.primary_id = sa.session_primary_id
					where s.principal_name = ?
					order by s.primary_id""");
		};
	}

	@Bean
	@ConditionalOnWebApplication
	CsrfTokenRepository formTokens() {
		return new HttpSessionCsrfTokenRepository();
	}

	@Bean
	@ConditionalOnWebApplication
	KeptForms keptForms(ServiceKey key,
			@Qualifier("requestMappingHandlerMapping") RequestMappingHandlerMapping handlers) {
		key.require();
		return new KeptForms(new FormOwner(key), handlers);
	}

	@Bean
	@ConditionalOnWebApplication
	static BeanPostProcessor ownedForms(ObjectProvider<ServiceKey> key) {
		return new BeanPostProcessor() {

			@Override
			public Object postProcessAfterInitialization(Object bean, String name) {
				return (bean instanceof RequestDataValueProcessor tokens)
						? new OwnedForms(tokens, new FormOwner(key.getObject())) : bean;
			}

		};
	}

	@Bean
	@ConditionalOnWebApplication
	SecurityFilterChain closedByDefault(HttpSecurity http, RouteRules rules, ApiTokens tokens, Standings standings,
			SignIns signIns, SignInSettings settings, CsrfTokenRepository formTokens, KeptForms kept,
			RequestSettings requestSettings, MetricsSettings metrics, EmergencyAccesses emergencies, Clock clock) {
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
					matched.access(rules.of(route));
				}
			}
			requests.requestMatchers(PathPatternRequestMatcher.withDefaults().matcher(HttpMethod.GET, Routes.METRICS))
				.access(new MetricsRule(metrics));
			requests.anyRequest().denyAll();
		});
		var refusals = new Refusals(kept);
		// who knows the address may write; nothing of the browser is asked for, which
		// another site could use
		http.csrf((csrf) -> csrf.csrfTokenRepository(formTokens)
			.ignoringRequestMatchers(PathPatternRequestMatcher.withDefaults().matcher(Routes.SECRET_ADDRESSES)));
		http.requestCache((cache) -> cache.requestCache(kept));
		http.exceptionHandling((handling) -> handling.authenticationEntryPoint(refusals).accessDeniedHandler(refusals));
		http.logout((logout) -> logout.logoutUrl("/sign-out")
			.addLogoutHandler((request, response, person) -> SignInSession.signIn(request).ifPresent(signIns::endHere))
			.addLogoutHandler(
					new HeaderWriterLogoutHandler(new ClearSiteDataHeaderWriter(Directive.CACHE, Directive.STORAGE)))
			.logoutSuccessUrl("/sign-in?signed-out"));
		http.addFilterAfter(new RequestRateFilter(requestSettings), SecurityContextHolderFilter.class);
		http.addFilterBefore(new StandingFilter(standings, settings, clock), CsrfFilter.class);
		http.addFilterBefore(new BearerTokenFilter(tokens, clock), UsernamePasswordAuthenticationFilter.class);
		http.addFilterAfter(new OneTimePasswordFilter(), AuthorizationFilter.class);
		http.addFilterAfter(new EmergencyOpeningFilter(emergencies), AuthorizationFilter.class);
		http.headers(new BrowserRules());
		return http.build();
	}

}
