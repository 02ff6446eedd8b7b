package org.seriatim.screening;

import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * What is planned for a day as far as the screening depends on it; {@code null} is
 * unknown.
 *
 * @param id none where nobody has said anything
 * @param prilocaine whether an anaesthetic cream with prilocaine is planned
 * @param version none where nobody has said anything
 */
public record DayPlan(@Nullable UUID id, @Nullable Boolean radiofrequency, @Nullable Boolean prilocaine,
		@Nullable Long version) {

	/** Nobody has said anything. */
	public static final DayPlan UNKNOWN = new DayPlan(null, null, null, null);

	/** The same where a session is known to use one of them. */
	public DayPlan using(boolean radiofrequency, boolean prilocaine) {
		return new DayPlan(this.id, radiofrequency ? Boolean.TRUE : this.radiofrequency,
				prilocaine ? Boolean.TRUE : this.prilocaine, this.version);
	}

}
