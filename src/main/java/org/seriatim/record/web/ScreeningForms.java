package org.seriatim.record.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Stream;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.screening.Answer;
import org.seriatim.screening.DayPlan;
import org.seriatim.screening.ListedItem;
import org.seriatim.screening.Screening;
import org.seriatim.screening.ScreeningEntries.Shown;
import org.seriatim.screening.Verdict;
import org.seriatim.shell.Decimal;

/** The forms of the page before the session. */
final class ScreeningForms {

	private ScreeningForms() {
	}

	/**
	 * Answers, a row for each item of the list at its place.
	 *
	 * @param changeReason why an answer of today is changed
	 */
	record AnswersForm(List<@Valid AnswerRow> answers, @Size(max = 500) @Nullable String changeReason) {

		AnswersForm {
			answers = complete(answers);
		}

		private static List<AnswerRow> complete(@Nullable List<@Nullable AnswerRow> sent) {
			return atTheirPlaces(sent, AnswerRow::item, (item) -> new AnswerRow(item, null, null, null, null));
		}

		/**
		 * What was answered today already, to be changed; without its answer where it is
		 * asked in other words now.
		 */
		static AnswersForm of(Screening screening) {
			return new AnswersForm(screening.items().stream().flatMap((item) -> {
				var answer = item.answer();
				if (answer == null || !answer.askedOn().equals(screening.day())) {
					return Stream.empty();
				}
				return Stream
					.of(item.isToBeAsked() ? new AnswerRow(answer.item().word(), null, null, null, answer.version())
							: new AnswerRow(answer.item().word(), answer.answer(), answer.note(), answer.lastDoseOn(),
									answer.version()));
			}).toList(), null);
		}

	}

	/**
	 * The answer to an item.
	 *
	 * @param version of the answer of today that is changed
	 */
	record AnswerRow(@Nullable String item, @Nullable Answer answer, @Size(max = 300) @Nullable String note,
			@Nullable LocalDate lastDoseOn, @Nullable Long version) {
	}

	/** Answers that are confirmed as they are: each an id and a version. */
	record RepeatForm(List<String> shown) {

		RepeatForm {
			shown = Stream.ofNullable(shown).flatMap(List::stream).filter(Objects::nonNull).toList();
		}

		List<Shown> entries() {
			return this.shown.stream().map(ScreeningForms::entry).filter(Objects::nonNull).toList();
		}

	}

	/**
	 * A row at each place that an item of the list can have, so that the rows of a form
	 * stay where they are whatever the clinic asks.
	 */
	private static <R> List<R> atTheirPlaces(@Nullable List<@Nullable R> sent, Function<R, @Nullable String> item,
			Function<@Nullable String, R> empty) {
		var rows = new ArrayList<R>(Collections.nCopies(ListedItem.PLACES, empty.apply(null)));
		Stream.ofNullable(sent)
			.flatMap(List::stream)
			.filter((row) -> row != null && ListedItem.place(item.apply(row)) >= 0)
			.forEach((row) -> rows.set(ListedItem.place(item.apply(row)), row));
		return List.copyOf(rows);
	}

	/** An id and a version; {@code null} where the text is neither. */
	static @Nullable Shown entry(@Nullable String token) {
		try {
			var parts = String.valueOf(token).split(":", 2);
			return (parts.length == 2) ? new Shown(UUID.fromString(parts[0]), Long.valueOf(parts[1])) : null;
		}
		catch (IllegalArgumentException ex) {
			return null;
		}
	}

	/** What is planned for today. */
	record PlanForm(@Nullable Boolean radiofrequency, @Nullable Boolean prilocaine, @Nullable Long planVersion) {

		static PlanForm of(DayPlan plan) {
			return new PlanForm(plan.radiofrequency(), plan.prilocaine(), plan.version());
		}

	}

	/** Decisions, a row for each item of the list at its place. */
	record DecisionsForm(List<@Valid DecisionRow> decisions) {

		DecisionsForm {
			decisions = complete(decisions);
		}

		private static List<DecisionRow> complete(@Nullable List<@Nullable DecisionRow> sent) {
			return atTheirPlaces(sent, DecisionRow::item, (item) -> new DecisionRow(item, null, null, null, null));
		}

	}

	/**
	 * The decision on an item.
	 *
	 * @param about the answer that the page showed
	 * @param version of the decision of today that is replaced
	 */
	record DecisionRow(@Nullable String item, @Nullable Answer about, @Nullable Verdict verdict,
			@Size(max = 500) @Nullable String reason, @Nullable Long version) {
	}

	/**
	 * A weight.
	 *
	 * @param weightVersion of the weight of today
	 */
	record WeightForm(@NotNull @Decimal(min = "30", max = "300", fraction = 1, unit = "kg") @Nullable String weightKg,
			@NotNull @Nullable LocalDate weighedOn, @Nullable Long weightVersion,
			@Size(max = 500) @Nullable String weightReason) {
	}

	/** A consent to treatment. */
	record TreatmentConsentForm(@NotNull @Nullable LocalDate consentGivenOn,
			@NotNull @Size(max = 200) @Nullable String documentReference) {
	}

	/**
	 * The end of a consent.
	 *
	 * @param consent the consent and its version
	 */
	record TreatmentWithdrawalForm(@NotNull @Nullable String consent, @NotNull @Nullable LocalDate consentEndsOn,
			@NotNull @Size(max = 500) @Nullable String consentEndReason) {
	}

	/**
	 * The cream.
	 *
	 * @param numbing the one that is stopped, and its version
	 * @param numbingStart hours and minutes; nothing is now
	 * @param numbingStop likewise
	 */
	record NumbingForm(@Nullable String numbing, @Nullable String numbingStart, @Nullable String numbingStop) {
	}

	/**
	 * Other times for a cream.
	 *
	 * @param corrected the one that is corrected, and its version
	 * @param correctedStop nothing leaves it on
	 */
	record NumbingCorrectionForm(@NotNull @Nullable String corrected, @NotNull @Nullable String correctedStart,
			@Nullable String correctedStop, @NotNull @Size(max = 500) @Nullable String correctedReason) {
	}

	/** How long the cream is to act. */
	record NumbingPlanForm(@NotNull @Decimal(min = "0", max = "300", unit = "min") @Nullable String numbingMinutes,
			@Nullable Long numbingPlanVersion) {
	}

}
