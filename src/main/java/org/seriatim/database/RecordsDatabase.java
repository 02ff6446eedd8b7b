package org.seriatim.database;

import java.nio.file.Path;
import java.util.Optional;

/**
 * The database of the records, as this process came to it. Whoever needs to read or write
 * records injects a {@link javax.sql.DataSource}; this type tells what kind of database
 * stands behind it.
 */
public interface RecordsDatabase {

	/**
	 * How this process came to its database.
	 */
	enum Access {

		/** A server that the configuration names; others start and stop it. */
		CONFIGURED,

		/** An embedded server that this process started and will stop. */
		STARTED,

		/** The embedded server of a service that runs on the same data folder. */
		JOINED

	}

	Access access();

	/**
	 * Where the records live, for a person who operates the service. Holds no secret.
	 */
	String place();

	/**
	 * The data folder of an embedded database.
	 */
	Optional<Path> folder();

}
