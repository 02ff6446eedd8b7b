package org.seriatim.access.domain;

/** A password that the rules don't take. The message key says which rule. */
public final class PasswordRefused extends RuntimeException {

	private static final long serialVersionUID = 1L;

	private final String rule;

	private final int limit;

	PasswordRefused(String rule, int limit) {
		super(rule);
		this.rule = rule;
		this.limit = limit;
	}

	public String rule() {
		return this.rule;
	}

	/** The number of characters that the rule speaks of, 0 where it speaks of none. */
	public int limit() {
		return this.limit;
	}

}
