package org.seriatim.record.web;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.access.WebInvocationPrivilegeEvaluator;
import org.springframework.stereotype.Component;

/**
 * The entry pages that the person who looks may open. The one table of routes decides, so
 * that no page keeps a second list of roles and no link leads to a refusal.
 */
@Component
class Doors {

	private final ObjectProvider<WebInvocationPrivilegeEvaluator> rules;

	Doors(ObjectProvider<WebInvocationPrivilegeEvaluator> rules) {
		this.rules = rules;
	}

	/**
	 * A link to a page.
	 *
	 * @param label what it says
	 */
	record Door(String label, String href) {
	}

	/** Those of these doors that are open. */
	List<Door> open(Door... doors) {
		var open = new ArrayList<Door>();
		for (var door : doors) {
			if (isOpen(door.href())) {
				open.add(door);
			}
		}
		return open;
	}

	/** The address, if it may be opened. */
	@Nullable String ifOpen(String href) {
		return isOpen(href) ? href : null;
	}

	boolean isOpen(String href) {
		return isAllowed("GET", href);
	}

	boolean maySend(String href) {
		return isAllowed("POST", href);
	}

	private boolean isAllowed(String method, String href) {
		var evaluator = this.rules.getIfAvailable();
		var path = href.replaceFirst("[?#].*", "");
		return evaluator != null
				&& evaluator.isAllowed("", path, method, SecurityContextHolder.getContext().getAuthentication());
	}

}
