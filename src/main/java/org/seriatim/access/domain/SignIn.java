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

	private final Standings standings;

	SignIn(Staff staff, Accounts accounts, Standings standings) {
		this.staff = staff;
		this.accounts = accounts;
		this.standings = standings;
	}

	@Override
	@Transactional(readOnly = true)
	public UserDetails loadUserByUsername(String name) {
		return this.staff.byName(name)
			.flatMap((member) -> this.accounts.findByStaff(member.id()))
			.flatMap((account) -> this.standings.of(account.id()))
			.map(Standing::person)
			// not even the name typed goes into a log: people type passwords there
			.orElseThrow(() -> new UsernameNotFoundException("no account of that name"));
	}

}
