package org.seriatim.database;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.Properties;

import org.jspecify.annotations.Nullable;

/**
 * The passwords of an embedded database's three roles. Anybody on the machine can reach
 * the loopback address; only who can read the cluster, where they are kept, knows these.
 *
 * @param superuser of the role {@value #SUPERUSER}, for maintenance by hand only
 * @param owner of the role {@value #OWNER}, which owns the records and moves the schema
 * forward: it may not leave the database, whatever statement it is made to run
 * @param service of the role {@value #SERVICE}, which the service works with: it owns
 * nothing; {@code null} in a cluster of a version that had no such role
 */
record Credentials(String superuser, String owner, @Nullable String service) {

	static final String SUPERUSER = "postgres";

	static final String OWNER = "seriatim";

	static final String SERVICE = "seriatim_service";

	private static final String FILE = "credentials.properties";

	private static final int BYTES = 32;

	static Credentials generate() {
		return new Credentials(password(), password(), password());
	}

	/** The same with a password for the service, where there is none. */
	Credentials completed() {
		return (this.service != null) ? this : new Credentials(this.superuser, this.owner, password());
	}

	private static String password() {
		SecureRandom random = new SecureRandom();
		byte[] bytes = new byte[BYTES];
		random.nextBytes(bytes);
		return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
	}

	static Credentials in(Path cluster) {
		Path file = cluster.resolve(FILE);
		try {
			Properties content = OwnerOnly.read(file);
			String superuser = content.getProperty(SUPERUSER);
			String owner = content.getProperty(OWNER);
			if (superuser == null || owner == null) {
				throw missing(file, null);
			}
			return new Credentials(superuser, owner, content.getProperty(SERVICE));
		}
		catch (IOException ex) {
			throw missing(file, ex);
		}
	}

	private static RecordsUnavailable missing(Path file, @Nullable IOException cause) {
		return new RecordsUnavailable(
				"The records cannot be opened: the passwords in %s are missing or this account may not read them. "
					.formatted(file)
						+ "Run with the account that owns the folder, or bring the file back from the backup.",
				cause);
	}

	void keep(Path cluster) {
		Properties content = new Properties();
		content.setProperty(SUPERUSER, this.superuser);
		content.setProperty(OWNER, this.owner);
		if (this.service != null) {
			content.setProperty(SERVICE, this.service);
		}
		try {
			OwnerOnly.write(cluster.resolve(FILE), content);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	@Override
	public String toString() {
		return "Credentials[]";
	}

}
