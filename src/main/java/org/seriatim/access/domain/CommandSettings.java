package org.seriatim.access.domain;

import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * Which command of the jar this process is, if it is one.
 *
 * @param command whether it is one
 * @param commandName its name
 */
@ConfigurationProperties("seriatim")
record CommandSettings(@DefaultValue("false") boolean command, @DefaultValue("command") String commandName) {

	/** The command and the machine's account that runs it. */
	String words() {
		return this.commandName + " by " + System.getProperty("user.name", "somebody");
	}

}
