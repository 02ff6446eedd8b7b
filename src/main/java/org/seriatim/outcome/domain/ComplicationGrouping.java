package org.seriatim.outcome.domain;

import java.util.Locale;
import java.util.Objects;

import org.jspecify.annotations.Nullable;

/** By what sessions are told apart when findings are counted. */
public enum ComplicationGrouping {

	NONE(null),

	/** The value is the id of who treated. */
	PRACTITIONER(null),

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

	PHOTOTYPE(null);

	private final @Nullable String members;

	ComplicationGrouping(@Nullable String members) {
		this.members = members;
	}

	/**
	 * A statement for the session and the group, a row for each group it is in, where the
	 * row of the session does not tell.
	 */
	String members() {
		return Objects.requireNonNull(this.members);
	}

	/** The word in addresses and files. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

}
