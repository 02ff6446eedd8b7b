package org.seriatim.access.web;

import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.MeterRegistry;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.domain.SignedIn;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.context.event.EventListener;
import org.springframework.security.authentication.event.AbstractAuthenticationFailureEvent;
import org.springframework.security.authentication.event.InteractiveAuthenticationSuccessEvent;
import org.springframework.stereotype.Component;

@Component
@ConditionalOnWebApplication
class SignInAudit {

	private final AuditLog audit;

	private final Counter refusals;

	SignInAudit(AuditLog audit, MeterRegistry registry) {
		this.audit = audit;
		this.refusals = Counter.builder("seriatim.sign-in.refused")
			.description("Sign-ins that this service has refused since it started")
			.register(registry);
	}

	@EventListener
	void signedIn(InteractiveAuthenticationSuccessEvent event) {
		if (event.getAuthentication().getPrincipal() instanceof SignedIn person) {
			this.audit.record(Action.SIGNED_IN, "account", person.account(), null);
		}
	}

	@EventListener
	void refused(AbstractAuthenticationFailureEvent event) {
		this.refusals.increment();
		this.audit.record(Action.SIGN_IN_REFUSED, "account", null, null);
	}

}
