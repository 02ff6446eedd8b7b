package org.seriatim.database;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.Properties;

import org.jspecify.annotations.Nullable;

/**
 * The passwords of an embedded database's two roles. Anybody on the machine can reach the
 * loopback address; only who can read the cluster, where they are kept, knows these.
 *
 * @param superuser of the role {@value #SUPERUSER}, for maintenance by hand only
 * @param owner of the role {@value #OWNER}, which owns the records and which the service
 * uses: it may not leave the database, whatever statement it is made to run
 */
record Credentials(String superuser, String owner) {

	static final String SUPERUSER = "postgres";

	static final String OWNER = "seriatim";

	private static final String FILE = "credentials.properties";

	private static final int BYTES = 32;

	static Credentials generate() {
		SecureRandom random = new SecureRandom();
		return new Credentials(password(random), password(random));
	}

	private static String password(SecureRandom random) {
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
			return new Credentials(superuser, owner);
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
