package org.seriatim.finding;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;

import org.jspecify.annotations.Nullable;
import org.seriatim.statistics.DurationInterval;

/**
 * How long a lump lasted, in days from its session (day 0): the end lies in
 * <em>(lastPresent, absentBy]</em>, or after {@code lastPresent} when it was never seen
 * absent.
 *
 * @param lump the finding
 * @param lastPresent last day on which it was present; 0 when it was only felt at the end
 * of the session
 * @param absentBy first later day on which it was absent
 * @param recurrent whether it came back in between; it counts to its last disappearance
 * @param questions what in its record contradicts itself and was therefore left out
 */
public record LumpDuration(FindingFacts lump, int lastPresent, @Nullable Integer absentBy, boolean recurrent,
		List<DataQuestion> questions) {

	/** Why a date of a lump's record was left out. */
	public enum Contradiction {

		/**
		 * A date before the session that the lump is counted from. Entry refuses it; it
		 * arises when the day of a session is corrected. A lump first noted before its
		 * session counts from day 0.
		 */
		DATED_BEFORE_SESSION,
		/** An observation of presence before the lump was first noted. */
		PRESENT_BEFORE_FIRST_NOTED,
		/**
		 * The patient's date of disappearance, although it was present then or later, or
		 * seen absent before.
		 */
		GONE_ON_CONTRADICTED

	}

	/** A data-quality item: the date that was left out, and why. */
	public record DataQuestion(Contradiction contradiction, LocalDate date) {
	}

	public LumpDuration {
		questions = List.copyOf(questions);
		if (lastPresent < 0 || (absentBy != null && absentBy <= lastPresent)) {
			throw new IllegalArgumentException(
					"a lump ends after it was last present, but not in (" + lastPresent + ", " + absentBy + "]");
		}
	}

	/** Whether somebody saw that it had gone. */
	public boolean isSeenGone() {
		return this.absentBy != null;
	}

	/** Whether it was present on a later day than this one, for certain. */
	public boolean lastedBeyond(int days) {
		return this.lastPresent > days;
	}

	/** Whether it may have been present on a later day than this one, but need not. */
	public boolean mayHaveLastedBeyond(int days) {
		return this.lastPresent <= days && this.absentBy != null && this.absentBy > days;
	}

	/** The interval for statistics, in days. */
	public DurationInterval interval() {
		return (this.absentBy != null) ? DurationInterval.between(this.lastPresent, this.absentBy)
				: DurationInterval.longerThan(this.lastPresent);
	}

	/**
	 * What the record of a lump says about its duration.
	 * <ul>
	 * <li>The day on which it was first noted counts as a day of presence.</li>
	 * <li>Present and absent on one day: present.</li>
	 * <li>The patient's own date of disappearance d puts the end into (d - 1, d], unless
	 * the lump was present on d or later, or was seen absent before d and not present
	 * again.</li>
	 * </ul>
	 * @param treatedOn day 0
	 */
	public static LumpDuration of(FindingFacts lump, LocalDate treatedOn) {
		var questions = new ArrayList<DataQuestion>();
		var present = new TreeSet<LocalDate>();
		var absent = new TreeSet<LocalDate>();
		var firstNoted = lump.firstNotedOn();
		if (firstNoted.isBefore(treatedOn)) {
			questions.add(new DataQuestion(Contradiction.DATED_BEFORE_SESSION, firstNoted));
			firstNoted = treatedOn;
		}
		present.add(firstNoted);
		for (var seen : lump.observations()) {
			if (seen.observedOn().isBefore(treatedOn)) {
				questions.add(new DataQuestion(Contradiction.DATED_BEFORE_SESSION, seen.observedOn()));
			}
			else if (!seen.present()) {
				absent.add(seen.observedOn());
			}
			else if (seen.observedOn().isBefore(firstNoted)) {
				questions.add(new DataQuestion(Contradiction.PRESENT_BEFORE_FIRST_NOTED, seen.observedOn()));
			}
			else {
				present.add(seen.observedOn());
			}
		}
		absent.removeAll(present);
		var lastPresent = present.last();
		var absentBy = absent.higher(lastPresent);
		var recurrent = !absent.subSet(present.first(), lastPresent).isEmpty();
		var goneOn = lump.goneOn();
		if (goneOn != null) {
			if (!goneOn.isAfter(lastPresent) || (absentBy != null && absentBy.isBefore(goneOn))) {
				questions.add(new DataQuestion(Contradiction.GONE_ON_CONTRADICTED, goneOn));
			}
			else {
				lastPresent = goneOn.minusDays(1);
				absentBy = goneOn;
			}
		}
		return new LumpDuration(lump, daysBetween(treatedOn, lastPresent),
				(absentBy != null) ? daysBetween(treatedOn, absentBy) : null, recurrent, questions);
	}

	private static int daysBetween(LocalDate from, LocalDate to) {
		return Math.toIntExact(to.toEpochDay() - from.toEpochDay());
	}

}
