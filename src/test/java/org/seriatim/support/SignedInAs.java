package org.seriatim.support;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.Objects;
import java.util.stream.Collectors;

import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.core.userdetails.UsernameNotFoundException;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.web.context.support.WebApplicationContextUtils;

import org.seriatim.access.Role;
import org.seriatim.access.domain.ManageAccounts;

/**
 * Lets a request come from a member of staff with a real account, named after the roles
 * and opened when first needed: {@code pages.get().uri("/patients").with(as(FRONT_DESK))}.
 */
public final class SignedInAs {

	private static final String PASSWORD = "a series of small steps";

	private SignedInAs() {
	}

	/** The member of staff who holds exactly these roles. */
	public static RequestPostProcessor as(Role... roles) {
		return as(nameOf(roles), roles);
	}

	/** A member of staff of that name, to tell two of the same role apart. */
	public static RequestPostProcessor as(String name, Role... roles) {
		return (request) -> {
			var context = WebApplicationContextUtils.getRequiredWebApplicationContext(request.getServletContext());
			var accounts = context.getBean(ManageAccounts.class);
			var signIn = context.getBean(UserDetailsService.class);
			try {
				signIn.loadUserByUsername(name);
			}
			catch (UsernameNotFoundException ex) {
				accounts.open(name, EnumSet.copyOf(Arrays.asList(roles)), PASSWORD);
			}
			var person = Objects.requireNonNull(signIn.loadUserByUsername(name));
			return SecurityMockMvcRequestPostProcessors.user(person).postProcessRequest(request);
		};
	}

	/** The name of the member of staff who holds exactly these roles. */
	public static String nameOf(Role... roles) {
		return Arrays.stream(roles).map(Role::word).collect(Collectors.joining("."));
	}

}
