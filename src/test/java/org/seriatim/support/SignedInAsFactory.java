package org.seriatim.support;

import org.springframework.security.core.context.SecurityContext;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.test.context.support.WithSecurityContextFactory;

class SignedInAsFactory implements WithSecurityContextFactory<SignedInAs> {

	private final TestStaff staff;

	SignedInAsFactory(TestStaff staff) {
		this.staff = staff;
	}

	@Override
	public SecurityContext createSecurityContext(SignedInAs annotation) {
		var context = SecurityContextHolder.createEmptyContext();
		context.setAuthentication(this.staff.signedIn(annotation.value()));
		return context;
	}

}
