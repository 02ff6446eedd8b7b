package org.seriatim.record.web;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.record.web.Doors.Door;

/**
 * A series at a glance.
 *
 * @param title what the patient is called
 * @param eyebrow number and state of the series
 * @param goal what it is for
 * @param advice the advice; none before the first session and for an ended series
 * @param noAdvice why there is none
 * @param gain what one more session has brought to such scars here; none for an ended
 * series, and without a scar whose depth can be compared
 * @param since none before the first session
 * @param timeLine none before the first session
 * @param siblings the patient's other series
 * @param canDecide whether the reader may accept or override the advice
 */
record SeriesPage(String id, String patient, String title, String eyebrow, @Nullable String goal, List<Fact> facts,
		List<Door> entries, List<Door> siblings, Alerts alerts, @Nullable AdviceCard advice,
		@Nullable NoAdvice noAdvice, boolean canDecide, @Nullable GainCard gain, @Nullable SinceLastSession since,
		@Nullable TimeLine timeLine, ScarTable scars, PoreTable pores, ScaleTable scales, TreatmentTable treatment,
		List<FindingRow> findings, List<ContactRow> contacts, Links links) {

	/** A fact of the head: skin profile, identity, protocol. */
	record Fact(String term, String value, @Nullable String note) {
	}

	/** Why there is no advice, and what to do. */
	record NoAdvice(String title, String text) {
	}

	/**
	 * Where empty sections lead to; none for who may not enter anything.
	 */
	record Links(@Nullable String recordSession, @Nullable String trackScar, @Nullable String assess,
			@Nullable String count, @Nullable String reportFinding, @Nullable String recordContact) {
	}

}
