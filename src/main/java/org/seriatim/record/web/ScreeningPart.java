package org.seriatim.record.web;

import java.time.LocalDate;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.function.Function;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.screening.Answer;
import org.seriatim.screening.GivenAnswer;
import org.seriatim.screening.ScreenedItem;
import org.seriatim.screening.ScreenedItem.State;
import org.seriatim.screening.Screening;
import org.seriatim.screening.ScreeningDecision;
import org.seriatim.screening.ScreeningItem;
import org.seriatim.shell.Written;

/**
 * The screening as the page before the session shows it.
 *
 * @param kind kind of the status component
 * @param summary where it stands as a whole
 * @param stopping the stop items that are not cleared
 * @param toAsk the items that somebody has to ask today, or that wait for a decision
 * @param settled those that need not be asked today
 * @param lastTime what one tap confirms after asking
 * @param drafts answers that a licensed clinician takes over
 * @param stops stop items to decide about
 * @param cautions cautions to acknowledge
 * @param planHistory the versions of what is planned
 * @param answeredToday whether an answer of today can be changed only with a reason
 * @param openCautions how many cautions nobody has cleared or acknowledged
 */
record ScreeningPart(String kind, String summary, List<String> stopping, List<Item> toAsk, List<Item> settled,
		List<Repeat> lastTime, List<Repeat> drafts, List<ToDecide> stops, List<ToDecide> cautions, int openCautions,
		@Nullable String planHistory, boolean answeredToday) {

	private static final int DAYS_A_WEEK = 7;

	/**
	 * An item.
	 *
	 * @param index its place in the forms
	 * @param last the latest answer, with its day and who asked
	 * @param validity until when it counts, or why it no longer does
	 * @param computed whether the record itself answers it, so that nobody asks
	 * @param dose whether the day of a last dose belongs to it
	 * @param version of the answer of today; none while there is none
	 */
	record Item(int index, String word, String question, boolean stop, String kind, String status,
			@Nullable String last, @Nullable String validity, boolean computed, boolean dose, String asked,
			String basis, @Nullable Long version, @Nullable String history) {
	}

	/**
	 * An answer that is confirmed as it is.
	 *
	 * @param token the answer and its version
	 */
	record Repeat(String token, String text) {
	}

	/**
	 * An item to decide about.
	 *
	 * @param about the answer that the decision is made on
	 * @param decided the decision of today, also one on another answer
	 * @param holds whether that decision is on the answer as it is now
	 */
	record ToDecide(int index, String word, String question, String answer, String about, @Nullable Long version,
			@Nullable String decided, boolean holds, @Nullable String history) {
	}

	static ScreeningPart of(Screening screening, Function<StaffId, String> staff, ZoneId zone, Texts texts) {
		var stopping = screening.stopping();
		var cautions = screening.openCautions();
		var items = screening.items().stream().map((item) -> item(item, screening.day(), staff, texts)).toList();
		var settled = screening.items()
			.stream()
			.filter(ScreeningPart::isSettled)
			.map((item) -> item.item().word())
			.collect(Collectors.toSet());
		return new ScreeningPart(stopping.isEmpty() ? (cautions.isEmpty() ? "done" : "caution") : "hold",
				texts.say("record.before.screening.summary", stopping.size(), cautions.size()),
				stopping.stream().map((item) -> item.item().question()).toList(),
				items.stream().filter((item) -> !settled.contains(item.word())).toList(),
				items.stream().filter((item) -> settled.contains(item.word())).toList(),
				screening.items()
					.stream()
					.filter(ScreeningPart::isRepeatable)
					.map((item) -> repeat(item, texts))
					.toList(),
				screening.items().stream().filter(ScreenedItem::isDraft).map((item) -> repeat(item, texts)).toList(),
				toDecide(screening, true, staff, zone, texts), toDecide(screening, false, staff, zone, texts),
				cautions.size(),
				(screening.plan().id() != null) ? "/history/screening_plan/" + screening.plan().id() : null,
				screening.items()
					.stream()
					.map(ScreenedItem::answer)
					.anyMatch((answer) -> answer != null && !answer.isDraft()
							&& answer.askedOn().equals(screening.day())));
	}

	/** What is asked in other words now is asked anew. */
	private static boolean isRepeatable(ScreenedItem item) {
		var answer = item.answer();
		return item.state() == State.STALE && answer != null && answer.answer() != Answer.UNKNOWN
				&& answer.item().question().equals(item.item().question());
	}

	/** An answer of today stays where it can be changed. */
	private static boolean isSettled(ScreenedItem item) {
		return item.isCleared() && item.state() == State.NO;
	}

	private static Item item(ScreenedItem item, LocalDate day, Function<StaffId, String> staff, Texts texts) {
		var answer = item.answer();
		return new Item(item.item().place(), item.item().word(), item.item().question(), item.item().isStop(),
				kind(item), status(item, texts), (answer != null) ? last(answer, day, staff, texts) : null,
				(answer != null) ? validity(item, answer, texts) : null,
				item.item().is(ScreeningItem.CONSENT_MISSING) || item.item().is(ScreeningItem.AGE_UNDER_18)
						&& answer == null && item.state() != State.UNANSWERED,
				item.item().is(ScreeningItem.ISOTRETINOIN),
				texts.say("screening.asked." + item.item().askedKey(), item.item().validDays()),
				texts.say(item.item().isOwn() ? "screening.basis.own" : "screening.basis." + item.item().word()),
				(answer != null && answer.askedOn().equals(day)) ? answer.version() : null,
				(answer != null) ? "/history/screening_answer/" + answer.id() : null);
	}

	private static String kind(ScreenedItem item) {
		if (item.isCleared()) {
			return "done";
		}
		if (item.isToBeAsked()) {
			return "unknown";
		}
		return (item.isDraft() && item.state() == State.NO) ? "wait" : item.item().isStop() ? "hold" : "caution";
	}

	private static String status(ScreenedItem item, Texts texts) {
		if (item.isToBeAsked()) {
			return texts
				.say((item.state() == State.STALE) ? "record.before.status.stale" : "record.before.status.unanswered");
		}
		var answer = texts.word("screening-answer", item.state().name().toLowerCase(Locale.ROOT));
		if (item.isDraft()) {
			return texts.say("record.before.status.draft", answer);
		}
		var decision = item.decision();
		return (decision != null && item.isDecided())
				? texts.say("record.before.status.decided", answer, texts.word("screening-verdict", decision.verdict()))
				: (item.about() != null) ? texts.say(
						item.item().isStop() ? "record.before.status.open" : "record.before.status.open-caution",
						answer) : answer;
	}

	private static String last(GivenAnswer answer, LocalDate day, Function<StaffId, String> staff, Texts texts) {
		var parts = new ArrayList<String>();
		parts.add(texts.say("record.before.answer.given", texts.word("screening-answer", answer.answer()),
				Written.day(answer.askedOn()), staff.apply(answer.askedBy())));
		if (answer.lastDoseOn() != null) {
			parts.add(texts.say("record.before.answer.dose", Written.day(answer.lastDoseOn()),
					ChronoUnit.DAYS.between(answer.lastDoseOn(), day) / DAYS_A_WEEK));
		}
		if (answer.note() != null) {
			parts.add(answer.note());
		}
		return String.join("; ", parts);
	}

	private static String validity(ScreenedItem item, GivenAnswer answer, Texts texts) {
		var until = answer.askedOn().plusDays(item.item().validDays());
		if (item.state() == State.STALE && !answer.item().question().equals(item.item().question())) {
			return texts.say("record.before.answer.other-words", answer.item().question());
		}
		return (item.state() == State.STALE) ? texts.say("record.before.answer.stale")
				: texts.say("record.before.answer.valid", Written.day(until));
	}

	private static Repeat repeat(ScreenedItem item, Texts texts) {
		var answer = Objects.requireNonNull(item.answer());
		var given = texts.say("record.before.repeat", item.item().question(),
				texts.word("screening-answer", answer.answer()), Written.day(answer.askedOn()));
		return new Repeat(answer.id() + ":" + answer.version(),
				(answer.note() != null) ? given + "; " + answer.note() : given);
	}

	private static List<ToDecide> toDecide(Screening screening, boolean stop, Function<StaffId, String> staff,
			ZoneId zone, Texts texts) {
		return screening.items()
			.stream()
			.filter((item) -> item.item().isStop() == stop && item.about() != null)
			.map((item) -> toDecide(item, screening.day(), staff, zone, texts))
			.toList();
	}

	private static ToDecide toDecide(ScreenedItem item, LocalDate day, Function<StaffId, String> staff, ZoneId zone,
			Texts texts) {
		var about = Objects.requireNonNull(item.about());
		var decision = item.decision();
		return new ToDecide(item.item().place(), item.item().word(), item.item().question(),
				(item.answer() != null) ? last(item.answer(), day, staff, texts)
						: texts.word("screening-answer", about),
				about.word(), (decision != null) ? decision.version() : null,
				(decision != null) ? decided(decision, staff, zone, texts) : null, item.isDecided(),
				(decision != null) ? "/history/screening_decision/" + decision.id() : null);
	}

	private static String decided(ScreeningDecision decision, Function<StaffId, String> staff, ZoneId zone,
			Texts texts) {
		var decided = texts.say("record.before.decided", texts.word("screening-verdict", decision.verdict()),
				texts.word("screening-answer", decision.about()), staff.apply(decision.decidedBy()),
				Written.time(decision.decidedAt(), zone));
		return (decision.reason() != null) ? decided + ": " + decision.reason() : decided;
	}

}
