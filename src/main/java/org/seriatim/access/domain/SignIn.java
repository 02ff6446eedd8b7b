package org.seriatim.access.domain;

import org.springframework.jdbc.core.simple.JdbcClient;
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

	private final JdbcClient jdbc;

	SignIn(Staff staff, Accounts accounts, Standings standings, JdbcClient jdbc) {
		this.staff = staff;
		this.accounts = accounts;
		this.standings = standings;
		this.jdbc = jdbc;
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

	/**
	 * Keeps the password that was just verified under a newer hash. Nothing changes for
	 * anybody, so the account keeps its version; a password chosen in the meantime stays.
	 */
	@Transactional
	public void keepAnew(SignedIn person, String hash) {
		this.jdbc.sql("update account set password = :hash where id = :account and password = :verified")
			.param("hash", hash)
			.param("account", person.account())
			.param("verified", person.getPassword())
			.update();
	}

}
