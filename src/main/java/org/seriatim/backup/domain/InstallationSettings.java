package org.seriatim.backup.domain;

import java.nio.file.Path;

import org.jspecify.annotations.Nullable;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * Where an installation keeps its files.
 *
 * @param data the folder of everything that it keeps
 * @param programs where PostgreSQL's programs are unpacked, if that was said
 */
@ConfigurationProperties("seriatim")
record InstallationSettings(@DefaultValue("./data") Path data, @Nullable Path programs) {

	Path dataFolder() {
		return this.data.toAbsolutePath().normalize();
	}

}
