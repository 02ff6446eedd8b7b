package org.seriatim.outcome.domain;

import java.util.Locale;

/** By what sessions are told apart when findings are counted. */
public enum ComplicationGrouping {

	NONE("select id, 'all' from asked"),

	/** The value is the id of who treated. */
	PRACTITIONER("select id, practitioner_id::text from asked"),

	/** Sessions with a preparation of it; one session may count in several. */
	PRODUCT("select distinct asked.id, product from asked join preparation on preparation.session_id = asked.id"),

	/** Sessions with a preparation of it; one session may count in several. */
	LOT("""
			select distinct asked.id, coalesce(lot, 'unknown')
			from asked join preparation on preparation.session_id = asked.id"""),

	/** Sessions with an injection there; the finding must lie there. */
	REGION("""
			select distinct asked.id, injection.region::text
			from asked join injection on injection.session_id = asked.id
			where cast(:region as text) is null or injection.region = cast(:region as text)"""),

	PHOTOTYPE("select id, coalesce(phototype::text, 'unknown') from asked");

	private final String members;

	ComplicationGrouping(String members) {
		this.members = members;
	}

	/** A statement for the session and the group, a row for each group it is in. */
	String members() {
		return this.members;
	}

	/** The word in addresses and files. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

}
