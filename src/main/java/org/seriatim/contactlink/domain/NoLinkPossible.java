package org.seriatim.contactlink.domain;

/** No link can be made, for a reason that the page says. */
public class NoLinkPossible extends RuntimeException {

	/** Why. */
	public enum Reason {

		/** The clinic has not set what every patient must be told. */
		NOT_SET_UP,
		/** The patient had no session yet. */
		NO_SESSION

	}

	private final Reason reason;

	NoLinkPossible(Reason reason) {
		super("no link can be made: " + reason);
		this.reason = reason;
	}

	public Reason reason() {
		return this.reason;
	}

}
