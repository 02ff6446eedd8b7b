package org.seriatim.record.web;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.record.web.Doors.Door;
import org.seriatim.record.web.SeriesPage.Fact;
import org.seriatim.shell.Choice;

/**
 * What is looked at and settled before a session: one patient, today.
 *
 * @param id the patient
 * @param series address of the open series; none without one
 * @param since none before the first session
 * @param advice none before the first session
 * @param lastTime none before the first session
 * @param start address that opens the session at the chair; none where it may not begin
 * @param licensed whether the reader decides
 * @param writes whether the reader may enter anything
 */
record BeforePage(String id, String title, String eyebrow, List<Fact> facts, Alerts alerts, @Nullable String series,
		@Nullable SinceLastSession since, @Nullable AdviceCard advice, @Nullable LastTime lastTime,
		ScreeningPart screening, ConsentPart consent, WeightPart weight, NumbingPart numbing, @Nullable String start,
		boolean licensed, boolean writes) {

	/**
	 * Consent to treatment.
	 *
	 * @param given the one in force; none where there is none
	 * @param inForce those that can be withdrawn
	 */
	record ConsentPart(@Nullable String given, List<ConsentLine> all, List<Choice> inForce) {
	}

	/** A consent that was ever given. */
	record ConsentLine(String history, String given, String document, String recorded, @Nullable String withdrawn) {
	}

	/**
	 * The weight that counts.
	 *
	 * @param weight none on record
	 * @param basis its day
	 * @param stale whether it is too old for the reference limit
	 * @param limit the reference limit, or why none is shown
	 * @param today whether there is a weight of today, which can only be corrected
	 * @param all those that were taken outside sessions, with their versions
	 */
	record WeightPart(@Nullable String weight, @Nullable String basis, boolean stale, String limit, boolean today,
			List<Door> all) {
	}

	/**
	 * The anaesthetic cream.
	 *
	 * @param running the one that is on; none while none is
	 * @param done times of today
	 * @param minutes that it was on today in all
	 * @param tooLong whether it is on, or was, longer than its product information says
	 * @param correctable the times of today, to be corrected
	 * @param arrivals when the patient has to be there, by the booked treatments
	 */
	record NumbingPart(@Nullable Running running, List<Door> done, @Nullable Integer minutes, boolean tooLong,
			List<Choice> correctable, List<String> arrivals, @Nullable String planHistory) {
	}

	/**
	 * The cream that is on.
	 *
	 * @param token it and its version
	 * @param seconds since its start, for the display that goes on by itself
	 */
	record Running(String token, String since, int minutes, long seconds, String history) {
	}

}
