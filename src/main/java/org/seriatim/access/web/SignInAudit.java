package org.seriatim.access.web;

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

	SignInAudit(AuditLog audit) {
		this.audit = audit;
	}

	@EventListener
	void signedIn(InteractiveAuthenticationSuccessEvent event) {
		if (event.getAuthentication().getPrincipal() instanceof SignedIn person) {
			this.audit.record(Action.SIGNED_IN, "account", person.account(), null);
		}
	}

	@EventListener
	void refused(AbstractAuthenticationFailureEvent event) {
		this.audit.record(Action.SIGN_IN_REFUSED, "account", null, null);
	}

}
