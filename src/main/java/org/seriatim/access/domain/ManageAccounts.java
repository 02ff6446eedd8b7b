package org.seriatim.access.domain;

import java.security.SecureRandom;
import java.time.Clock;
import java.util.Comparator;
import java.util.List;
import java.util.NoSuchElementException;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

import org.seriatim.access.AccountRegister;
import org.seriatim.access.AuditLog;
import org.seriatim.access.Role;
import org.seriatim.access.StaffMember;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Opens accounts, gives them roles and passwords, deactivates them. */
@Service
@Transactional
public class ManageAccounts implements AccountRegister {

	private static final String ONE_TIME_ALPHABET = "abcdefghjkmnpqrstuvwxyz23456789";

	private final Staff staff;

	private final Accounts accounts;

	private final PasswordEncoder encoder;

	private final PasswordRules rules;

	private final SecondFactors secondFactors;

	private final SignInSettings settings;

	private final AuditLog audit;

	private final Clock clock;

	private final SecureRandom random = new SecureRandom();

	ManageAccounts(Staff staff, Accounts accounts, PasswordEncoder encoder, PasswordRules rules,
			SecondFactors secondFactors, SignInSettings settings, AuditLog audit, Clock clock) {
		this.staff = staff;
		this.accounts = accounts;
		this.encoder = encoder;
		this.rules = rules;
		this.secondFactors = secondFactors;
		this.settings = settings;
		this.audit = audit;
		this.clock = clock;
	}

	/**
	 * Opens an account with a one-time password, which lasts as long as an invitation.
	 * @return the password, which is shown once and stored only as its hash
	 * @throws NameTaken if that member of staff has an account
	 */
	public String open(String name, Set<Role> roles) {
		String password = oneTimePassword();
		Account account = newAccount(name, roles);
		account.giveOneTimePassword(this.encoder.encode(password),
				this.clock.instant().plus(this.settings.invitation()));
		save(account, "opened");
		return password;
	}

	/**
	 * Opens an account with a password that its owner has chosen.
	 * @throws NameTaken if that member of staff has an account
	 * @throws PasswordRefused if the password breaks a rule
	 */
	@Override
	public void open(String name, Set<Role> roles, String password) {
		Account account = newAccount(name, roles);
		choose(account, name, password);
		save(account, "opened");
	}

	/** Replaces the password of the account's owner, who is signed in. */
	public void choosePassword(UUID id, String password) {
		Account account = account(id);
		choose(account, nameOf(id), password);
		save(account, "password chosen");
	}

	/**
	 * Opens an account that waits until its owner chooses a password.
	 * @throws NameTaken if that member of staff has an account
	 */
	UUID openWithoutPassword(String name, Set<Role> roles) {
		Account account = newAccount(name, roles);
		save(account, "opened");
		return account.id();
	}

	/** Whether the password is long enough to be used without a second factor. */
	@Transactional(readOnly = true)
	public boolean passwordStandsAlone(UUID id) {
		return account(id).passwordStandsAlone();
	}

	/**
	 * Nobody can sign in to the account until its owner chooses a password again.
	 * @throws LastAdministrator if nobody would be left who can manage accounts
	 */
	void forgetPassword(UUID id) {
		Account account = account(id);
		account.forgetPassword();
		requireAdministrator();
		save(account, "password withdrawn");
	}

	/**
	 * @throws LastAdministrator if nobody would be left who can manage accounts
	 */
	public void giveRoles(UUID id, Set<Role> roles) {
		Account account = account(id);
		account.giveRoles(roles);
		requireAdministrator();
		save(account, "roles " + roles.stream().map(Role::word).sorted().collect(Collectors.joining(";")));
	}

	/**
	 * @throws LastAdministrator if nobody would be left who can manage accounts
	 */
	void deactivate(UUID id) {
		Account account = account(id);
		account.deactivate();
		requireAdministrator();
		save(account, "deactivated");
	}

	public void reactivate(UUID id) {
		Account account = account(id);
		account.reactivate();
		save(account, "reactivated");
	}

	@Override
	@Transactional(readOnly = true)
	public boolean isEmpty() {
		return this.accounts.count() == 0;
	}

	private Account newAccount(String name, Set<Role> roles) {
		var member = this.staff.named(List.of(name)).get(name);
		if (this.accounts.findByStaff(member).isPresent()) {
			throw new NameTaken(name);
		}
		return new Account(member, roles, this.clock.instant());
	}

	private void choose(Account account, String name, String password) {
		this.rules.check(password, name, this.secondFactors.isOn(account.id()));
		account.choosePassword(this.encoder.encode(password), PasswordRules.standsAlone(password));
	}

	private void requireAdministrator() {
		boolean left = this.accounts.findAll()
			.stream()
			.anyMatch((account) -> account.active() && account.password() != null
					&& account.roles().contains(Role.ADMINISTRATOR));
		if (!left) {
			throw new LastAdministrator();
		}
	}

	private String oneTimePassword() {
		return this.random.ints(20, 0, ONE_TIME_ALPHABET.length())
			.mapToObj((index) -> String.valueOf(ONE_TIME_ALPHABET.charAt(index)))
			.collect(Collectors.joining());
	}

	private Account account(UUID id) {
		return this.accounts.findById(id).orElseThrow(() -> new NoSuchElementException("no such account"));
	}

	/** The name with which one signs in to the account. */
	@Transactional(readOnly = true)
	public String nameOf(UUID id) {
		return this.staff.nameOfAccount(id).orElseThrow(() -> new NoSuchElementException("no such account"));
	}

	private void save(Account account, String what) {
		this.accounts.saveAndFlush(account);
		this.audit.record(AuditLog.Action.ADMINISTERED, "account", account.id(), null, what);
	}

}
