package org.seriatim.access.domain;

/** A password that the rules don't take. The message key says which rule. */
public final class PasswordRefused extends RuntimeException {

	private static final long serialVersionUID = 1L;

	private final String rule;

	PasswordRefused(String rule) {
		super(rule);
		this.rule = rule;
	}

	public String rule() {
		return this.rule;
	}

}
