package org.seriatim.screening;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;

import org.jspecify.annotations.Nullable;
import org.seriatim.screening.ScreeningItem.Asked;
import org.seriatim.screening.ScreeningItem.Level;

/**
 * An item as a version of the clinic's list has it: one of those that every list has, or
 * the clinic's own.
 *
 * @param word what it is called in the records, for good
 * @param question what is asked
 * @param validDays an answer that is older must be asked again, 1 to 365
 * @param switchedOff why it is not asked any more; none while it is
 */
public record ListedItem(String word, String question, Level level, int validDays, Asked asked,
		@Nullable String switchedOff) {

	/** A list has no more items of the clinic's own. */
	public static final int OWN_AT_MOST = 40;

	/** Places that items have in forms. */
	public static final int PLACES = ScreeningItem.values().length + OWN_AT_MOST;

	/** Longest time that an answer can count, in days. */
	public static final int VALID_AT_MOST_DAYS = 365;

	private static final Pattern OWN = Pattern.compile("clinic_([1-9][0-9]?)");

	/** The item that every list has, as it is there from the start. */
	public static ListedItem standard(ScreeningItem item, String question) {
		return new ListedItem(item.word(), question, item.level(), item.validDays(), item.asked(), null);
	}

	/** What the clinic's own item with this number is called, the first being 1. */
	public static String own(int number) {
		return "clinic_" + number;
	}

	/**
	 * The place of an item in forms and lists, from 0, which is the same in all versions;
	 * -1 for what is no item.
	 */
	public static int place(@Nullable String word) {
		var standard = ScreeningItem.ofWord(word);
		if (standard != null) {
			return standard.ordinal();
		}
		var own = OWN.matcher(String.valueOf(word));
		var number = own.matches() ? Integer.parseInt(own.group(1)) : 0;
		return (number >= 1 && number <= OWN_AT_MOST) ? ScreeningItem.values().length + number - 1 : -1;
	}

	public int place() {
		return place(this.word);
	}

	/** The item of every list that it is; empty for the clinic's own. */
	public Optional<ScreeningItem> standard() {
		return Arrays.stream(ScreeningItem.values()).filter(this::is).findFirst();
	}

	public boolean isOwn() {
		return standard().isEmpty();
	}

	public boolean is(ScreeningItem item) {
		return item.word().equals(this.word);
	}

	/**
	 * Whether it stops a session in every clinic: such an item stays as it is, but for an
	 * answer that counts for a shorter time.
	 */
	public boolean isFixed() {
		return standard().filter((item) -> item.level() == Level.STOP).isPresent();
	}

	public boolean isStop() {
		return this.level == Level.STOP;
	}

	public boolean isInUse() {
		return this.switchedOff == null;
	}

	/** Whether it was asked in the words of now. */
	boolean isWordedLike(AskedItem asked) {
		return this.question.equals(asked.question());
	}

	/**
	 * Whether it is asked at all, given what is planned. Nothing said is taken for
	 * planned.
	 */
	boolean appliesTo(DayPlan plan) {
		if (is(ScreeningItem.METHAEMOGLOBIN)) {
			return !Boolean.FALSE.equals(plan.prilocaine());
		}
		return this.asked != Asked.IF_ENERGY_DEVICE || !Boolean.FALSE.equals(plan.radiofrequency());
	}

	/** The part of message keys that says when it is asked. */
	public String askedKey() {
		return this.asked.name().toLowerCase(Locale.ROOT).replace('_', '-');
	}

}
