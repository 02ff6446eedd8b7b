package org.seriatim.access.web;

import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpSession;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.domain.KnownPlaces;
import org.seriatim.access.domain.SignIns;
import org.seriatim.access.domain.SignedIn;
import org.seriatim.access.domain.Standing;
import org.seriatim.access.domain.Standings;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.authentication.session.ChangeSessionIdAuthenticationStrategy;
import org.springframework.security.web.authentication.session.CompositeSessionAuthenticationStrategy;
import org.springframework.security.web.authentication.session.SessionAuthenticationStrategy;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
import org.springframework.security.web.csrf.CsrfAuthenticationStrategy;
import org.springframework.security.web.csrf.CsrfTokenRepository;
import org.springframework.stereotype.Component;

/**
 * Ties a person to an HTTP session: from the password, through the second factor, to the
 * end. Each step changes the session's id and the token of its forms.
 */
@Component
@ConditionalOnWebApplication
class SignInSession {

	private final SignIns signIns;

	private final KnownPlaces places;

	private final Standings standings;

	private final AuditLog audit;

	private final Clock clock;

	private final SessionAuthenticationStrategy renewal;

	private final HttpSessionSecurityContextRepository contexts = new HttpSessionSecurityContextRepository();

	SignInSession(SignIns signIns, KnownPlaces places, Standings standings, AuditLog audit, Clock clock,
			CsrfTokenRepository tokens) {
		this.signIns = signIns;
		this.places = places;
		this.standings = standings;
		this.audit = audit;
		this.clock = clock;
		this.renewal = new CompositeSessionAuthenticationStrategy(
				List.of(new ChangeSessionIdAuthenticationStrategy(), new CsrfAuthenticationStrategy(tokens)));
	}

	/** The password was right. */
	void begin(SignedIn person, HttpServletRequest request, HttpServletResponse response) {
		// whoever was signed in here before takes along what the session holds of them
		signIn(request).ifPresent((before) -> {
			this.signIns.endHere(before);
			request.getSession().invalidate();
		});
		var browser = Browser.of(request);
		request.getSession();
		var signIn = this.signIns.begin(person.account(), browser.address(), browser.family());
		store(Factors.shown(person, Factors.PASSWORD, this.clock.instant()), request, response);
		request.getSession().setAttribute(SignIns.ATTRIBUTE, signIn.toString());
		if (!person.hasSecondFactor()) {
			complete(person, request, response);
		}
	}

	/** The code was right. */
	void giveSecondFactor(SignedIn person, HttpServletRequest request, HttpServletResponse response) {
		show(person, Factors.SECOND, request, response);
		complete(person, request, response);
	}

	/** The person signed in has shown a factor once more. */
	void show(SignedIn person, String factor, HttpServletRequest request, HttpServletResponse response) {
		store(Factors.shownToo(current(), person, factor, this.clock.instant()), request, response);
	}

	/** The account has changed by what its owner just did. */
	void renew(SignedIn person, HttpServletRequest request, HttpServletResponse response) {
		var now = this.standings.of(person.account()).map(Standing::person).orElse(person);
		store(Factors.renewed(current(), now), request, response);
	}

	private void complete(SignedIn person, HttpServletRequest request, HttpServletResponse response) {
		signIn(request).ifPresent(this.signIns::complete);
		Browser.give(request, response, this.places.remember(person.account(), Browser.of(request).mark()),
				this.places.markLasts());
		this.audit.record(Action.SIGNED_IN, "account", person.account(), null);
	}

	private void store(Authentication authentication, HttpServletRequest request, HttpServletResponse response) {
		this.renewal.onAuthentication(authentication, request, response);
		var context = SecurityContextHolder.createEmptyContext();
		context.setAuthentication(authentication);
		SecurityContextHolder.setContext(context);
		this.contexts.saveContext(context, request, response);
	}

	private static Authentication current() {
		return SecurityContextHolder.getContext().getAuthentication();
	}

	/** The sign-in of the session, if it has one. */
	static Optional<UUID> signIn(HttpServletRequest request) {
		HttpSession session = request.getSession(false);
		return Optional.ofNullable(session)
			.map((there) -> (String) there.getAttribute(SignIns.ATTRIBUTE))
			.map(UUID::fromString);
	}

}
