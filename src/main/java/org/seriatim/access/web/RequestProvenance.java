package org.seriatim.access.web;

import java.util.Optional;
import java.util.UUID;

import jakarta.servlet.http.HttpServletRequest;
import org.seriatim.access.domain.Provenance;
import org.seriatim.access.domain.ProvenanceOfRequest;
import org.seriatim.access.domain.SignedIn;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;
import org.springframework.web.context.request.RequestContextHolder;
import org.springframework.web.context.request.ServletRequestAttributes;

/** Reads off a request what the audit log says of where it came from. */
@Component
@ConditionalOnWebApplication
class RequestProvenance implements ProvenanceOfRequest {

	/** The token by which a script asks. */
	static final String TOKEN = RequestProvenance.class.getName() + ".token";

	@Override
	public Optional<Provenance> now() {
		return (RequestContextHolder.getRequestAttributes() instanceof ServletRequestAttributes attributes)
				? Optional.of(of(attributes.getRequest())) : Optional.empty();
	}

	static Provenance of(HttpServletRequest request) {
		String address = request.getRemoteAddr();
		if (request.getAttribute(TOKEN) instanceof UUID token) {
			return Provenance.token(token, address);
		}
		var person = SecurityContextHolder.getContext().getAuthentication();
		if (person == null || !(person.getPrincipal() instanceof SignedIn)) {
			return Provenance.visitor(address);
		}
		return Provenance.signIn(SignInSession.signIn(request).orElse(null), address,
				(request.getAttribute(RouteRules.EMERGENCY) instanceof UUID access) ? access : null);
	}

}
