package org.seriatim.access.web;

import java.io.Serializable;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

/**
 * A form that arrived when it could not be taken: after its sign-in had ended, or before
 * the person had confirmed who they are. It is given back to that account only.
 *
 * @param account whose page it was filled in on
 * @param address where it was sent to
 * @param values what it held, by name
 * @param deliberate whether that very person sent it, with the token of its page: then it
 * can be sent on as it is
 * @param shownAgain whether its page can show it again, filled
 */
record KeptForm(UUID account, String address, Map<String, List<String>> values, boolean deliberate,
		boolean shownAgain) implements Serializable {

	KeptForm {
		values = new LinkedHashMap<>(values);
	}

	/** Prints nothing that was typed. */
	@Override
	public String toString() {
		return "KeptForm[" + this.account + "]";
	}

}
