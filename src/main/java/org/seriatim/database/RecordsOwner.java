package org.seriatim.database;

import java.util.function.Supplier;
import javax.sql.DataSource;

/**
 * The role that owns the tables of the records, for the few things that the service
 * itself may not do: moving the schema forward, and bringing a backup back. Whoever reads
 * or writes records in the course of a day injects the {@link DataSource} instead.
 */
public final class RecordsOwner {

	private final Supplier<DataSource> source;

	RecordsOwner(Supplier<DataSource> source) {
		this.source = source;
	}

	/**
	 * The connections of the migrations. Each one is opened when it is asked for and ends
	 * when it is closed.
	 * @throws RecordsUnavailable where migrations are turned off, and so nobody knows the
	 * owner
	 */
	public DataSource dataSource() {
		return this.source.get();
	}

}
