package org.seriatim.support;

import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
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
		var person = this.staff.member(annotation.value());
		var context = SecurityContextHolder.createEmptyContext();
		context.setAuthentication(
				UsernamePasswordAuthenticationToken.authenticated(person, null, person.getAuthorities()));
		return context;
	}

}
