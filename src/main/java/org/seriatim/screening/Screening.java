package org.seriatim.screening;

import java.time.LocalDate;
import java.time.Period;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.screening.ScreenedItem.State;
import org.seriatim.screening.ScreeningItem.Asked;

/**
 * The screening of a patient as it stands on a day.
 *
 * @param items those that apply, in the order of the list
 */
public record Screening(LocalDate day, DayPlan plan, List<ScreenedItem> items) {

	/** Under this age, in whole years, an item stops. */
	public static final int ADULT_FROM_YEARS = 18;

	public Screening {
		items = List.copyOf(items);
	}

	/**
	 * What the answers are looked at with.
	 *
	 * @param birthDate {@code null} if it is not on record: then it is asked
	 * @param consented whether a consent to treatment is in force on that day
	 * @param lastTreatedOn day of the last session before that day, {@code null} if there
	 * was none
	 */
	public record Setting(LocalDate day, DayPlan plan, @Nullable LocalDate birthDate, boolean consented,
			@Nullable LocalDate lastTreatedOn) {
	}

	/**
	 * The screening on a day. An answer counts as long as it is not older than the item's
	 * days of validity and the item is worded as it was; one to what is asked at every
	 * session also has to be of after the last session.
	 * @param list the clinic's list that is in force on that day
	 * @param answers all that were given to the patient's screening, in any order
	 * @param decisions likewise
	 */
	public static Screening of(Setting setting, ScreeningList list, Collection<GivenAnswer> answers,
			Collection<ScreeningDecision> decisions) {
		return new Screening(setting.day(), setting.plan(),
				list.items()
					.stream()
					.filter((item) -> item.isInUse() && item.appliesTo(setting.plan()))
					.map((item) -> screened(item, setting, latest(item, setting.day(), answers),
							decision(item, setting.day(), decisions)))
					.toList());
	}

	private static @Nullable GivenAnswer latest(ListedItem item, LocalDate day, Collection<GivenAnswer> answers) {
		return answers.stream()
			.filter((answer) -> answer.item().word().equals(item.word()) && !answer.askedOn().isAfter(day))
			.max(Comparator.comparing(GivenAnswer::askedOn))
			.orElse(null);
	}

	private static @Nullable ScreeningDecision decision(ListedItem item, LocalDate day,
			Collection<ScreeningDecision> decisions) {
		return decisions.stream()
			.filter((decision) -> decision.item().word().equals(item.word()) && decision.decidedOn().equals(day))
			.findFirst()
			.orElse(null);
	}

	private static ScreenedItem screened(ListedItem item, Setting setting, @Nullable GivenAnswer answer,
			@Nullable ScreeningDecision decision) {
		if (item.is(ScreeningItem.CONSENT_MISSING)) {
			return new ScreenedItem(item, setting.consented() ? State.NO : State.YES, null, decision);
		}
		if (item.is(ScreeningItem.AGE_UNDER_18) && setting.birthDate() != null) {
			var years = Period.between(setting.birthDate(), setting.day()).getYears();
			return new ScreenedItem(item, (years < ADULT_FROM_YEARS) ? State.YES : State.NO, null, decision);
		}
		return new ScreenedItem(item, state(item, answer, setting), answer, decision);
	}

	private static State state(ListedItem item, @Nullable GivenAnswer answer, Setting setting) {
		if (answer == null) {
			return State.UNANSWERED;
		}
		if (!isValid(item, answer, setting.day(), setting.lastTreatedOn())) {
			return State.STALE;
		}
		return switch (answer.answer()) {
			case NO -> State.NO;
			case YES -> State.YES;
			case UNKNOWN -> State.UNKNOWN;
		};
	}

	private static boolean isValid(ListedItem item, GivenAnswer answer, LocalDate day,
			@Nullable LocalDate lastTreatedOn) {
		var beforeTheLastSession = lastTreatedOn != null && !answer.askedOn().isAfter(lastTreatedOn);
		return item.isWordedLike(answer.item()) && ChronoUnit.DAYS.between(answer.askedOn(), day) <= item.validDays()
				&& !(item.asked() == Asked.EVERY_SESSION && beforeTheLastSession);
	}

	/** The stop items that are not cleared: while there is one, no session may start. */
	public List<ScreenedItem> stopping() {
		return this.items.stream().filter(ScreenedItem::stops).toList();
	}

	/**
	 * The items that keep a session from being recorded: stop items, then cautions, that
	 * are not cleared.
	 */
	public List<ScreenedItem> open() {
		return Stream.concat(stopping().stream(), openCautions().stream()).toList();
	}

	/** The cautions that nobody has cleared or acknowledged. */
	public List<ScreenedItem> openCautions() {
		return this.items.stream().filter((item) -> !item.item().isStop() && !item.isCleared()).toList();
	}

	/** Whether anything was asked or decided on that very day. */
	public boolean isRecordedThatDay() {
		return this.items.stream()
			.anyMatch((item) -> item.answer() != null && item.answer().askedOn().equals(this.day)
					|| item.decision() != null);
	}

}
