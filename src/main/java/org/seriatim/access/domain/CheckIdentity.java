package org.seriatim.access.domain;

import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.springframework.security.core.userdetails.UsernameNotFoundException;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.stereotype.Service;

/**
 * Whether somebody is who they say: by password, by a code. Each look is counted before,
 * so that guessing is slow. An unknown name, an inactive account and one without a
 * password cost the same time as a wrong password and are answered alike.
 */
@Service
public class CheckIdentity {

	/** No password is so long; hashing it would only cost time. */
	private static final int LONGEST_LOOKED_AT = 1000;

	private final SignIn accounts;

	private final SecondFactors secondFactors;

	private final PasswordEncoder encoder;

	private final Guesses guesses;

	private final KnownPlaces places;

	private final String nobodysPassword;

	CheckIdentity(SignIn accounts, SecondFactors secondFactors, PasswordEncoder encoder, Guesses guesses,
			KnownPlaces places) {
		this.accounts = accounts;
		this.secondFactors = secondFactors;
		this.encoder = encoder;
		this.guesses = guesses;
		this.places = places;
		this.nobodysPassword = encoder.encode("nobody has this password");
	}

	/**
	 * @param address where from
	 * @param mark the mark that the browser brought
	 * @return the person, whose password is hashed anew where it was hashed in a way no
	 * longer used; empty if name and password are not those of an active account
	 * @throws TooManyGuesses if it comes too early; then nothing was looked at
	 */
	public Optional<SignedIn> byPassword(String name, String password, String address, @Nullable String mark) {
		var guess = this.guesses.count(Guesses.Kind.PASSWORD, name, this.places.origin(name, address, mark));
		var person = find(name);
		String hash = person.map(SignedIn::getPassword).filter((kept) -> !kept.isEmpty()).orElse(this.nobodysPassword);
		boolean right = password.length() <= LONGEST_LOOKED_AT && this.encoder.matches(password, hash);
		var known = person.filter((there) -> right && there.isEnabled() && !there.getPassword().isEmpty());
		if (known.isPresent()) {
			this.guesses.right(guess);
			if (this.encoder.upgradeEncoding(hash)) {
				this.accounts.keepAnew(known.get(), this.encoder.encode(password));
			}
		}
		return known;
	}

	/**
	 * @return whether it is a code of the person's app, or a recovery code, not used
	 * before
	 * @throws TooManyGuesses if it comes too early; then nothing was looked at
	 */
	public boolean byCode(SignedIn person, String code, String address, @Nullable String mark) {
		String name = person.getUsername();
		var guess = this.guesses.count(Guesses.Kind.CODE, name, this.places.origin(name, address, mark));
		boolean right = this.secondFactors.take(person.account(), code);
		if (right) {
			this.guesses.right(guess);
		}
		return right;
	}

	private Optional<SignedIn> find(String name) {
		try {
			return Optional.of((SignedIn) this.accounts.loadUserByUsername(name));
		}
		catch (UsernameNotFoundException ex) {
			return Optional.empty();
		}
	}

}
