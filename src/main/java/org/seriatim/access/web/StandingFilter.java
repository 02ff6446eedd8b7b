package org.seriatim.access.web;

import java.io.IOException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.EmergencyNotice;
import org.seriatim.access.SignInTimes;
import org.seriatim.access.domain.SignInSettings;
import org.seriatim.access.domain.SignedIn;
import org.seriatim.access.domain.Standing;
import org.seriatim.access.domain.Standings;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Holds a sign-in against what the account is now: it has the roles of this moment, and
 * it is over when the account is inactive, when the sign-in was ended, or when it has
 * lasted as long as one may.
 */
final class StandingFilter extends OncePerRequestFilter {

	/**
	 * On the requests that somebody sent; a question what a page may link to has none.
	 */
	static final String SENT = StandingFilter.class.getName() + ".sent";

	private final Standings standings;

	private final SignInSettings settings;

	private final Clock clock;

	StandingFilter(Standings standings, SignInSettings settings, Clock clock) {
		this.standings = standings;
		this.settings = settings;
		this.clock = clock;
	}

	@Override
	protected boolean shouldNotFilter(HttpServletRequest request) {
		return PageFiles.isOneAskedBy(request) || RequestPath.of(request).startsWith("/actuator/");
	}

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		request.setAttribute(SENT, true);
		var authentication = SecurityContextHolder.getContext().getAuthentication();
		if (authentication != null && authentication.getPrincipal() instanceof SignedIn person) {
			hold(authentication, person, request);
		}
		chain.doFilter(request, response);
	}

	private void hold(Authentication authentication, SignedIn person, HttpServletRequest request) {
		var signIn = SignInSession.signIn(request);
		var standing = this.standings.of(person.account(), signIn.orElse(null));
		boolean inSession = signIn.isPresent() || isStoredInSession(request);
		if (standing.filter((now) -> isGood(now, inSession)).isEmpty()) {
			SecurityContextHolder.clearContext();
			if (request.getSession(false) != null) {
				request.getSession(false).invalidate();
			}
			return;
		}
		standing.map(Standing::signedInAt)
			.ifPresent((since) -> new SignInTimes(Duration.ofSeconds(request.getSession().getMaxInactiveInterval()),
					this.settings.warning(), since.plus(this.settings.longest()))
				.keepIn(request));
		standing.ifPresent((now) -> new EmergencyNotice(now.person().emergency().orElse(null), now.awaitingReview())
			.keepIn(request));
		var context = SecurityContextHolder.createEmptyContext();
		// what goes on after the request still knows where it came from
		context
			.setAuthentication(Factors.renewed(authentication, standing.get().person(), RequestProvenance.of(request)));
		SecurityContextHolder.setContext(context);
	}

	private boolean isGood(Standing standing, boolean inSession) {
		return standing.person().isEnabled() && (!inSession || lasts(standing.signedInAt()));
	}

	private boolean lasts(@Nullable Instant signedInAt) {
		return Optional.ofNullable(signedInAt)
			.filter((since) -> this.clock.instant().isBefore(since.plus(this.settings.longest())))
			.isPresent();
	}

	private static boolean isStoredInSession(HttpServletRequest request) {
		var session = request.getSession(false);
		return session != null
				&& session.getAttribute(HttpSessionSecurityContextRepository.SPRING_SECURITY_CONTEXT_KEY) != null;
	}

}
