package org.seriatim.support;

import java.time.Clock;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.GrantedAuthority;
import org.springframework.security.core.authority.FactorGrantedAuthority;
import org.springframework.security.core.userdetails.UserDetails;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

import org.seriatim.access.Role;

/** The people of the tests, each with an account that nobody can sign in to. */
public class TestStaff {

	private final JdbcClient database;

	private final UserDetailsService accounts;

	private final Clock clock;

	TestStaff(JdbcClient database, UserDetailsService accounts, Clock clock) {
		this.database = database;
		this.accounts = accounts;
		this.clock = clock;
	}

	/** Somebody with exactly these roles, the same person each time. */
	public UserDetails member(Role... roles) {
		return named(Arrays.stream(roles).map(Role::word).sorted().collect(Collectors.joining(".")), roles);
	}

	/** Somebody of this name with exactly these roles. */
	public UserDetails named(String name, Role... roles) {
		this.database.sql("""
				with person as (insert into staff (name) values (:name) on conflict do nothing returning id),
					account as (insert into account (staff_id, password, created_at)
						select id, '{none}', now() from person returning id)
				insert into account_role (account_id, role) select id, unnest(cast(:roles as text[])) from account""")
			.param("name", name)
			.param("roles", Arrays.stream(roles).map(Role::word).toArray(String[]::new))
			.update();
		return this.accounts.loadUserByUsername(name);
	}

	/** Makes one request theirs. */
	public RequestPostProcessor as(Role... roles) {
		return as(member(roles));
	}

	/** Makes one request that person's. */
	public RequestPostProcessor as(UserDetails person) {
		return SecurityMockMvcRequestPostProcessors.authentication(signedIn(person));
	}

	/** As somebody is signed in who has just shown password and second factor. */
	public Authentication signedIn(Role... roles) {
		return signedIn(member(roles));
	}

	private Authentication signedIn(UserDetails person) {
		var authorities = new ArrayList<GrantedAuthority>(person.getAuthorities());
		for (String factor : List.of(FactorGrantedAuthority.PASSWORD_AUTHORITY, "FACTOR_SECOND")) {
			authorities.add(FactorGrantedAuthority.withAuthority(factor).issuedAt(this.clock.instant()).build());
		}
		return UsernamePasswordAuthenticationToken.authenticated(person, null, authorities);
	}

}
