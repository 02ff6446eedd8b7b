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
	 * @throws IllegalArgumentException if it was noted or observed before the session
	 */
	public static LumpDuration of(FindingFacts lump, LocalDate treatedOn) {
		var questions = new ArrayList<DataQuestion>();
		var present = new TreeSet<LocalDate>();
		var absent = new TreeSet<LocalDate>();
		present.add(notBefore(treatedOn, lump.firstNotedOn()));
		for (var seen : lump.observations()) {
			var on = notBefore(treatedOn, seen.observedOn());
			if (!seen.present()) {
				absent.add(on);
			}
			else if (on.isBefore(lump.firstNotedOn())) {
				questions.add(new DataQuestion(Contradiction.PRESENT_BEFORE_FIRST_NOTED, on));
			}
			else {
				present.add(on);
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

	private static LocalDate notBefore(LocalDate treatedOn, LocalDate date) {
		if (date.isBefore(treatedOn)) {
			throw new IllegalArgumentException("a lump of the session of " + treatedOn + " was dated " + date);
		}
		return date;
	}

	private static int daysBetween(LocalDate from, LocalDate to) {
		return Math.toIntExact(to.toEpochDay() - from.toEpochDay());
	}

}
