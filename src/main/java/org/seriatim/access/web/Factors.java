package org.seriatim.access.web;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

import org.seriatim.access.domain.Provenance;
import org.seriatim.access.domain.SignedIn;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.GrantedAuthority;
import org.springframework.security.core.authority.FactorGrantedAuthority;

/** What somebody has shown of themselves, and when: authorities beside the roles. */
final class Factors {

	static final String PASSWORD = FactorGrantedAuthority.PASSWORD_AUTHORITY;

	/** A code of the app or a recovery code. */
	static final String SECOND = "FACTOR_SECOND";

	/** A token for scripts. */
	static final String TOKEN = FactorGrantedAuthority.BEARER_AUTHORITY;

	private Factors() {
	}

	/** Somebody who has shown one thing, now. */
	static Authentication shown(SignedIn person, String factor, Instant now) {
		var authorities = new ArrayList<GrantedAuthority>(person.getAuthorities());
		authorities.add(factor(factor, now));
		return authenticated(person, authorities);
	}

	/** The same who has shown another thing, or the same one again, now. */
	static Authentication shownToo(Authentication until, SignedIn person, String factor, Instant now) {
		var authorities = kept(until, person);
		authorities.removeIf((authority) -> factor.equals(authority.getAuthority()));
		authorities.add(factor(factor, now));
		return authenticated(person, authorities);
	}

	/** The same with the roles that the account has now. */
	static Authentication renewed(Authentication until, SignedIn person) {
		return authenticated(person, kept(until, person));
	}

	/** The same with the roles that the account has now, by the request that is sent. */
	static Authentication renewed(Authentication until, SignedIn person, Provenance from) {
		var renewed = authenticated(person, kept(until, person));
		renewed.setDetails(from);
		return renewed;
	}

	static boolean has(Authentication authentication, String factor) {
		return authentication.getAuthorities().stream().anyMatch((each) -> factor.equals(each.getAuthority()));
	}

	private static List<GrantedAuthority> kept(Authentication until, SignedIn person) {
		var authorities = new ArrayList<GrantedAuthority>(person.getAuthorities());
		until.getAuthorities()
			.stream()
			.filter((authority) -> authority instanceof FactorGrantedAuthority)
			.forEach(authorities::add);
		return authorities;
	}

	private static FactorGrantedAuthority factor(String factor, Instant now) {
		return FactorGrantedAuthority.withAuthority(factor).issuedAt(now).build();
	}

	private static UsernamePasswordAuthenticationToken authenticated(SignedIn person,
			List<GrantedAuthority> authorities) {
		person.eraseCredentials();
		return UsernamePasswordAuthenticationToken.authenticated(person, null, authorities);
	}

}
