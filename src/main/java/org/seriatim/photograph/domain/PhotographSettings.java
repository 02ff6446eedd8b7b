package org.seriatim.photograph.domain;

import java.nio.file.Path;

import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * Where pictures are kept.
 *
 * @param data the folder of everything that must survive; the pictures lie in its folder
 * {@code photographs}, which several services on one database share
 */
@ConfigurationProperties("seriatim")
record PhotographSettings(@DefaultValue("./data") Path data) {

	Path folder() {
		return this.data.toAbsolutePath().normalize().resolve("photographs");
	}

}
