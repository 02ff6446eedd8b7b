package org.seriatim.exchange.domain;

import java.nio.file.Path;

import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * Where the services on one database put what they tell each other of imports.
 *
 * @param data the folder of everything that the installation keeps
 */
@ConfigurationProperties("seriatim")
record ImportFolder(@DefaultValue("./data") Path data) {

	Path folder() {
		return this.data.toAbsolutePath().normalize().resolve("imports");
	}

}
