package org.seriatim.access.domain;

import org.springframework.security.core.userdetails.UserDetails;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.core.userdetails.UsernameNotFoundException;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
class SignIn implements UserDetailsService {

	private final Staff staff;

	private final Accounts accounts;

	SignIn(Staff staff, Accounts accounts) {
		this.staff = staff;
		this.accounts = accounts;
	}

	@Override
	@Transactional(readOnly = true)
	public UserDetails loadUserByUsername(String name) {
		return this.staff.byName(name)
			.flatMap((member) -> this.accounts.findByStaff(member.id())
				.map((account) -> new SignedIn(account, member.name())))
			// not even the name typed goes into a log: people type passwords there
			.orElseThrow(() -> new UsernameNotFoundException("no account of that name"));
	}

}
