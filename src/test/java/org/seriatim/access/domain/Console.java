package org.seriatim.access.domain;

import org.springframework.context.ApplicationContext;

/** What only somebody at the machine can read. */
public final class Console {

	private Console() {
	}

	public static String setupCode(ApplicationContext application) {
		return application.getBean(SetupCode.class).code();
	}

}
