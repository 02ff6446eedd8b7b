package org.seriatim.screening.domain;

/** A list of the screening breaks a rule. */
public class ListRefused extends RuntimeException {

	private final Rule rule;

	private final String item;

	ListRefused(Rule rule, String item) {
		super("refused: " + rule + " of " + item);
		this.rule = rule;
		this.item = item;
	}

	public Rule rule() {
		return this.rule;
	}

	/** What the item is called in the records. */
	public String item() {
		return this.item;
	}

	/** What every list must keep. */
	public enum Rule {

		/** An item that was on the list is not there any more. */
		ITEM_LOST,
		/**
		 * An item that stops in every clinic is switched off, worded or asked otherwise,
		 * or no longer stops.
		 */
		FIXED_ITEM_CHANGED,
		/** An answer to such an item would count longer. */
		FIXED_ITEM_VALID_LONGER,
		/** An item that every list has changes its level, or when it is asked. */
		STANDARD_ITEM_CHANGED,
		/** Two items ask the same. */
		ASKED_TWICE

	}

}
