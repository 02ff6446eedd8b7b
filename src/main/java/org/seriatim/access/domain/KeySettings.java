package org.seriatim.access.domain;

import java.nio.file.Path;

import org.jspecify.annotations.Nullable;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * Where the installation's key comes from.
 *
 * @param data the folder in which it is kept
 * @param key the key itself, 32 bytes in base64, for several services on one database;
 * then nothing is kept
 */
@ConfigurationProperties("seriatim")
record KeySettings(@DefaultValue("./data") Path data, @Nullable String key) {

	@Override
	public String toString() {
		return "KeySettings[" + this.data + "]";
	}

}
