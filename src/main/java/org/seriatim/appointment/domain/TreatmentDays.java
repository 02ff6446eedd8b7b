package org.seriatim.appointment.domain;

import java.time.LocalDate;
import java.util.Collection;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.StandingAdvice;

/**
 * On which days a treatment may be booked by the current advice.
 *
 * @param onHold whether none may be booked at all
 * @param contactFirst whether the window is provisional: a contact is asked for first,
 * and no practitioner has set an own window
 * @param first first day of the window that holds; none without advice
 * @param target day to aim for
 * @param last last day of the window that holds
 */
public record TreatmentDays(boolean onHold, boolean contactFirst, @Nullable LocalDate first, @Nullable LocalDate target,
		@Nullable LocalDate last) {

	/** Nothing is said about any day. */
	static final TreatmentDays NONE = new TreatmentDays(false, false, null, null, null);

	/**
	 * @param held whether a finding of the patient holds treatment, which a patient
	 * without a session has no advice for
	 * @param current of all open series of the patient
	 */
	static TreatmentDays of(boolean held, Collection<StandingAdvice> current) {
		if (held || current.stream().anyMatch((standing) -> standing.advice().status() == AdviceStatus.HOLD)) {
			return new TreatmentDays(true, false, null, null, null);
		}
		return current.stream()
			.max(Comparator.comparing((StandingAdvice standing) -> standing.advice().treatedOn()))
			.map((standing) -> new TreatmentDays(false,
					standing.advice().status() == AdviceStatus.WAIT_FOR_CONTACT && !standing.isOverridden(),
					standing.first(), standing.isOverridden() ? standing.first() : standing.advice().target(),
					standing.last()))
			.orElse(NONE);
	}

	/** What is unusual about a treatment on the day. */
	Set<Exceptional> exceptionsOn(LocalDate day) {
		var exceptions = EnumSet.noneOf(Exceptional.class);
		if (this.contactFirst) {
			exceptions.add(Exceptional.CONTACT_FIRST);
		}
		if (this.first != null && day.isBefore(this.first)) {
			exceptions.add(Exceptional.BEFORE_WINDOW);
		}
		if (this.last != null && day.isAfter(this.last)) {
			exceptions.add(Exceptional.AFTER_WINDOW);
		}
		return exceptions;
	}

}
