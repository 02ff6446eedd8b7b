package org.seriatim.database;

import java.nio.file.Path;

import org.jspecify.annotations.Nullable;

import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * Where the embedded database keeps what must survive, and how this process comes to it.
 *
 * @param data the folder of everything that the embedded mode keeps
 * @param command whether this process is a command, which joins the database of a service
 * that runs on the folder instead of being refused
 * @param programs the folder for the unpacked programs of PostgreSQL, which may be
 * deleted at any time while nothing runs; by default below the user's cache folder
 */
@ConfigurationProperties("seriatim")
record DataSettings(@DefaultValue("./data") Path data, @DefaultValue("false") boolean command,
		@Nullable Path programs) {

	Path programsFolder() {
		if (this.programs != null) {
			return this.programs;
		}
		String cache = System.getenv("XDG_CACHE_HOME");
		if (cache != null && !cache.isBlank()) {
			return Path.of(cache, "seriatim");
		}
		Path home = Path.of(System.getProperty("user.home"));
		if (home.isAbsolute() && home.toFile().canWrite()) {
			return home.resolve(".cache").resolve("seriatim");
		}
		// an account made for a service often has no home
		return this.data.resolve("programs");
	}

}
