package org.seriatim.access.web;

import java.io.IOException;

import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.domain.SignedIn;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpMethod;
import org.springframework.http.HttpStatus;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.authorization.AuthorizationDeniedException;
import org.springframework.security.authorization.FactorAuthorizationDecision;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.AuthenticationEntryPoint;
import org.springframework.security.web.access.AccessDeniedHandler;
import org.springframework.security.web.access.AccessDeniedHandlerImpl;
import org.springframework.security.web.csrf.CsrfException;

/**
 * Where a request goes that is not let through: to the sign-in, to the second factor, to
 * the confirmation, each of which takes it up again; or to the page that says no.
 */
final class Refusals implements AuthenticationEntryPoint, AccessDeniedHandler {

	private final KeptForms kept;

	private final AccessDeniedHandler refusal = new AccessDeniedHandlerImpl();

	Refusals(KeptForms kept) {
		this.kept = kept;
	}

	/** Nobody is signed in; what can be taken up after the sign-in is kept already. */
	@Override
	public void commence(HttpServletRequest request, HttpServletResponse response, AuthenticationException reason)
			throws IOException {
		if (request.getHeader("HX-Request") != null) {
			if (request.getMethod().equals(HttpMethod.GET.name())) {
				response.setHeader("HX-Refresh", "true");
			}
			response.setStatus(HttpStatus.UNAUTHORIZED.value());
		}
		else if (request.getHeader(HttpHeaders.AUTHORIZATION) != null) {
			response.setHeader(HttpHeaders.WWW_AUTHENTICATE, "Bearer");
			response.setStatus(HttpStatus.UNAUTHORIZED.value());
		}
		else {
			go(request, response, "/sign-in");
		}
	}

	@Override
	public void handle(HttpServletRequest request, HttpServletResponse response, AccessDeniedException reason)
			throws IOException, ServletException {
		var person = person();
		if (reason instanceof CsrfException) {
			withoutToken(request, response, reason, person);
		}
		else if (person != null && reason instanceof AuthorizationDeniedException denied
				&& denied.getAuthorizationResult() instanceof FactorAuthorizationDecision missing) {
			step(request, response, person, missing);
		}
		else {
			this.refusal.handle(request, response, reason);
		}
	}

	/* The page is older than the session: it has expired, or somebody signed in again. */
	private void withoutToken(HttpServletRequest request, HttpServletResponse response, AccessDeniedException reason,
			@Nullable SignedIn person) throws IOException, ServletException {
		boolean own = person != null && this.kept.ownerOf(request).filter(person.account()::equals).isPresent();
		if (person == null) {
			if (request.getHeader("HX-Request") != null) {
				response.setStatus(HttpStatus.UNAUTHORIZED.value());
				return;
			}
			this.kept.saveRequest(request, response);
			go(request, response,
					RequestPath.of(request).equals("/sign-out") ? "/sign-in?signed-out" : "/sign-in?expired");
		}
		else if (own) {
			this.kept.saveRequest(request, response);
			go(request, response, "/kept-form");
		}
		else {
			this.refusal.handle(request, response, reason);
		}
	}

	private void step(HttpServletRequest request, HttpServletResponse response, SignedIn person,
			FactorAuthorizationDecision missing) throws IOException {
		if (request.getHeader("HX-Request") != null) {
			response.setStatus(HttpStatus.UNAUTHORIZED.value());
			return;
		}
		if (request.getMethod().equals(HttpMethod.POST.name())) {
			this.kept.keepDeliberate(request, person.account());
		}
		else {
			this.kept.saveRequest(request, response);
		}
		boolean second = missing.getFactorErrors()
			.stream()
			.anyMatch((error) -> Factors.SECOND.equals(error.getRequiredFactor().getAuthority()));
		go(request, response,
				second ? (person.hasSecondFactor() ? "/sign-in/code" : "/account/second-factor") : "/confirm");
	}

	private static @Nullable SignedIn person() {
		var authentication = SecurityContextHolder.getContext().getAuthentication();
		return (authentication != null && authentication.getPrincipal() instanceof SignedIn person) ? person : null;
	}

	private static void go(HttpServletRequest request, HttpServletResponse response, String path) throws IOException {
		response.sendRedirect(request.getContextPath() + path);
	}

}
