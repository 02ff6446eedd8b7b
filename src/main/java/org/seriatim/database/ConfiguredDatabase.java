package org.seriatim.database;

import java.nio.file.Path;
import java.util.Optional;

/**
 * A server that the configuration names.
 */
record ConfiguredDatabase(String place) implements RecordsDatabase {

	/**
	 * @param url its JDBC address, whose parameters may hold a password and are left out
	 */
	static ConfiguredDatabase at(String url) {
		int parameters = url.indexOf('?');
		String place = (parameters < 0) ? url : url.substring(0, parameters);
		return new ConfiguredDatabase(place.replaceFirst("^jdbc:", ""));
	}

	@Override
	public Access access() {
		return Access.CONFIGURED;
	}

	@Override
	public Optional<Path> folder() {
		return Optional.empty();
	}

}
