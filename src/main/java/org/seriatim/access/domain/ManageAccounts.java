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

/** Opens accounts, gives them roles and one-time passwords, deactivates them. */
@Service
@Transactional
public class ManageAccounts implements AccountRegister {

	/**
	 * NIST SP 800-63B-4: at least 15 characters where a password stands alone; no
	 * composition rules.
	 */
	public static final int SHORTEST_PASSWORD = 15;

	/** Longer input costs hashing time and adds nothing. */
	public static final int LONGEST_PASSWORD = 128;

	private static final String ONE_TIME_ALPHABET = "abcdefghjkmnpqrstuvwxyz23456789";

	private final Staff staff;

	private final Accounts accounts;

	private final PasswordEncoder encoder;

	private final AuditLog audit;

	private final Clock clock;

	private final SecureRandom random = new SecureRandom();

	ManageAccounts(Staff staff, Accounts accounts, PasswordEncoder encoder, AuditLog audit, Clock clock) {
		this.staff = staff;
		this.accounts = accounts;
		this.encoder = encoder;
		this.audit = audit;
		this.clock = clock;
	}

	/**
	 * Opens an account with a one-time password.
	 * @return the password, which is shown once and stored only as its hash
	 * @throws NameTaken if that member of staff has an account
	 */
	public String open(String name, Set<Role> roles) {
		String password = oneTimePassword();
		Account account = newAccount(name, roles);
		account.giveOneTimePassword(this.encoder.encode(password));
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
		account.choosePassword(encoded(name, password));
		save(account, "opened");
	}

	/** Replaces the password of the account's owner, who is signed in. */
	public void choosePassword(UUID id, String password) {
		Account account = account(id);
		account.choosePassword(encoded(nameOf(account), password));
		save(account, "password chosen");
	}

	/** Gives the account a new one-time password and returns it. */
	public String resetPassword(UUID id) {
		Account account = account(id);
		String password = oneTimePassword();
		account.giveOneTimePassword(this.encoder.encode(password));
		save(account, "one-time password given");
		return password;
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
	public void setActive(UUID id, boolean active) {
		Account account = account(id);
		if (active) {
			account.reactivate();
		}
		else {
			account.deactivate();
		}
		requireAdministrator();
		save(account, active ? "reactivated" : "deactivated");
	}

	@Transactional(readOnly = true)
	public AccountList list() {
		var names = this.staff.all().stream().collect(Collectors.toMap(StaffMember::id, StaffMember::name));
		List<AccountList.Row> rows = this.accounts.findAll()
			.stream()
			.map((account) -> new AccountList.Row(account.id(), names.getOrDefault(account.staff(), ""),
					account.roles(), account.active(), account.passwordExpired()))
			.sorted(Comparator.comparing(AccountList.Row::name))
			.toList();
		return new AccountList(rows);
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

	private String encoded(String name, String password) {
		int length = password.codePointCount(0, password.length());
		if (length < SHORTEST_PASSWORD) {
			throw new PasswordRefused("too-short");
		}
		if (length > LONGEST_PASSWORD) {
			throw new PasswordRefused("too-long");
		}
		if (password.codePoints().distinct().count() < 5 || password.toLowerCase().contains(name.toLowerCase())) {
			throw new PasswordRefused("too-easy");
		}
		return this.encoder.encode(password);
	}

	private void requireAdministrator() {
		boolean left = this.accounts.findAll()
			.stream()
			.anyMatch((account) -> account.active() && account.roles().contains(Role.ADMINISTRATOR));
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

	private String nameOf(Account account) {
		return this.staff.byId(account.staff()).map(StaffMember::name).orElse("");
	}

	private void save(Account account, String what) {
		this.accounts.save(account);
		this.audit.record(AuditLog.Action.ADMINISTERED, "account", account.id(), null, what);
	}

}
