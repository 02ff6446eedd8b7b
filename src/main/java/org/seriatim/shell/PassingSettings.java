package org.seriatim.shell;

import java.nio.file.Path;

import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * Where files wait that only pass through.
 *
 * @param data the folder of everything that the service keeps
 */
@ConfigurationProperties("seriatim")
record PassingSettings(@DefaultValue("./data") Path data) {
}
