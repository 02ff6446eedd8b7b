package org.seriatim.treatment.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Objects;
import java.util.function.BiFunction;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

import com.fasterxml.jackson.annotation.JsonIgnore;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.treatment.Aftercare;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.PreparationId;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.domain.CatalogueLot;
import org.seriatim.treatment.domain.CatalogueProduct;
import org.seriatim.treatment.domain.Circumstances;
import org.seriatim.treatment.domain.SessionDetails;
import org.seriatim.treatment.domain.SessionReview.Side;

/**
 * A session as it is typed.
 *
 * @param version of the session that is corrected, or of the draft
 * @param sides one for each side, in their order
 * @param vesselsSeen whether the caution about regions with vessels was confirmed
 * @param reason why it is corrected
 */
record SessionForm(@Nullable Long version, @NotNull @Decimal(min = "1", max = "999") @Nullable String number,
		@NotNull @Nullable LocalDate treatedOn, @NotNull @Nullable StaffId practitioner,
		@Decimal(min = "30", max = "300", fraction = 1, unit = "kg") @Nullable String weightKg,
		@Nullable Combination combination,
		@Decimal(min = "0.1", max = "10", fraction = 2, unit = "mm") @Nullable String rfDepthMm,
		@Decimal(min = "0", max = "1440", unit = "min") @Nullable String topicalMinutes,
		@Decimal(min = "0", max = "500", fraction = 1, unit = "g") @Nullable String topicalGrams,
		@Decimal(min = "0", max = "5000", fraction = 1, unit = "cm²") @Nullable String topicalAreaCm2,
		@Nullable Boolean oralAnalgesic, @Nullable Boolean vibration,
		@Decimal(min = "0", max = "10") @Nullable String painNrs, @Nullable Boolean massage,
		List<@Valid PreparationRow> preparations, List<@Valid InjectionRow> injections, List<SideRow> sides,
		@Nullable Boolean instructionsGiven, @Size(max = 2000) @Nullable String instructions,
		@Nullable Boolean vesselsSeen, @Size(max = 400) @Nullable String reason) {

	/** Rows that a new form offers. */
	private static final int INJECTIONS_OFFERED = 4;

	SessionForm {
		preparations = numbered(preparations, PreparationRow::empty, PreparationRow::number, PreparationRow::numbered);
		injections = numbered(injections, InjectionRow::empty, InjectionRow::number, InjectionRow::numbered);
		sides = SideRow.complete(sides);
	}

	/*
	 * A row that was left out has no fields; a number that is missing or twice there is
	 * given anew.
	 */
	private static <R> List<R> numbered(@Nullable List<@Nullable R> rows, Supplier<R> empty,
			Function<R, @Nullable Integer> number, BiFunction<R, Integer, R> numbered) {
		if (rows == null) {
			return List.of();
		}
		var next = rows.stream()
			.filter(Objects::nonNull)
			.map(number)
			.filter(Objects::nonNull)
			.mapToInt(Integer::intValue)
			.max()
			.orElse(0);
		var result = new ArrayList<R>();
		var taken = new HashMap<Integer, R>();
		for (var row : rows) {
			var one = (row != null) ? row : empty.get();
			var own = number.apply(one);
			if (own == null || own < 1 || taken.containsKey(own)) {
				next = Math.max(next, 0) + 1;
				own = next;
				one = numbered.apply(one, own);
			}
			taken.put(own, one);
			result.add(one);
		}
		return List.copyOf(result);
	}

	/**
	 * The form of a new session.
	 * @param today {@code null} for one from paper, whose day is still to be said
	 * @param weightKg weight of that day, where it was taken before
	 * @param topicalMinutes how long the cream was on, where that was timed before
	 */
	static SessionForm of(int number, @Nullable LocalDate today, @Nullable StaffId practitioner,
			@Nullable BigDecimal weightKg, @Nullable Integer topicalMinutes) {
		return new SessionForm(null, Integer.toString(number), today, practitioner, DecimalText.of(weightKg), null,
				null, DecimalText.of(topicalMinutes), null, null, null, null, null, null,
				List.of(PreparationRow.empty()),
				IntStream.range(0, INJECTIONS_OFFERED).mapToObj((row) -> InjectionRow.from(1)).toList(), List.of(),
				null, null, null, null);
	}

	/** The form of a correction. */
	static SessionForm from(RecordedSession session, Long version, ZoneId zone) {
		var after = session.aftercare();
		var numbers = session.preparations()
			.stream()
			.collect(Collectors.toMap(RecordedPreparation::id, RecordedPreparation::number));
		return new SessionForm(version, Integer.toString(session.number()), session.treatedOn(), session.practitioner(),
				DecimalText.of(session.weightKg()), session.combination(), DecimalText.of(session.rfDepthMm()),
				DecimalText.of(session.topicalMinutes()), DecimalText.of(after.topicalGrams()),
				DecimalText.of(after.topicalAreaCm2()), session.oralAnalgesic(), session.vibration(),
				DecimalText.of(session.painNrs()), session.massage(),
				session.preparations().stream().map((row) -> PreparationRow.from(row, zone)).toList(),
				session.injections().stream().map((injection) -> InjectionRow.from(injection, numbers)).toList(),
				List.of(SideRow.from(Side.RIGHT, after.right()), SideRow.from(Side.MIDDLE, after.middle()),
						SideRow.from(Side.LEFT, after.left())),
				after.instructionsGiven(), after.instructions(), true, null);
	}

	/**
	 * Where the page says what of the screening keeps the session from being recorded.
	 * Nothing is typed there.
	 */
	@JsonIgnore
	public @Nullable String getScreening() {
		return null;
	}

	SessionForm withVersion(@Nullable Long version) {
		return with(version, this.preparations, this.injections);
	}

	/** The same with one more preparation. */
	SessionForm withPreparation() {
		return with(this.version, plus(this.preparations, PreparationRow.empty()), this.injections);
	}

	/** The same with one more injection, of the same source, target, layer and needle. */
	SessionForm withInjection() {
		var row = this.injections.isEmpty() ? InjectionRow.empty()
				: this.injections.get(this.injections.size() - 1).next();
		return with(this.version, this.preparations, plus(this.injections, row));
	}

	/** The same with a preparation filled in from the catalogue. */
	SessionForm withLot(int number, CatalogueProduct product, CatalogueLot lot) {
		return with(this.version,
				this.preparations.stream()
					.map((row) -> Objects.equals(row.number(), number) ? row.from(product, lot) : row)
					.toList(),
				this.injections);
	}

	SessionForm withoutPreparation(int number) {
		return with(this.version,
				this.preparations.stream().filter((row) -> !Objects.equals(row.number(), number)).toList(),
				this.injections);
	}

	SessionForm withoutInjection(int number) {
		return with(this.version, this.preparations,
				this.injections.stream().filter((row) -> !Objects.equals(row.number(), number)).toList());
	}

	private SessionForm with(@Nullable Long version, List<PreparationRow> preparations, List<InjectionRow> injections) {
		return new SessionForm(version, this.number, this.treatedOn, this.practitioner, this.weightKg, this.combination,
				this.rfDepthMm, this.topicalMinutes, this.topicalGrams, this.topicalAreaCm2, this.oralAnalgesic,
				this.vibration, this.painNrs, this.massage, preparations, injections, this.sides,
				this.instructionsGiven, this.instructions, this.vesselsSeen, this.reason);
	}

	private static <R> List<R> plus(List<R> rows, R row) {
		var more = new ArrayList<>(rows);
		more.add(row);
		return more;
	}

	/** Whether a region is among the injections that asks for a confirmation in vain. */
	boolean lacksConfirmation() {
		return !Boolean.TRUE.equals(this.vesselsSeen) && this.injections.stream()
			.map(InjectionRow::region)
			.filter(Objects::nonNull)
			.anyMatch(Region::hasVessels);
	}

	/** Position of the preparation with this number. */
	int indexOfPreparation(int number) {
		return IntStream.range(0, this.preparations.size())
			.filter((index) -> Objects.equals(this.preparations.get(index).number(), number))
			.findFirst()
			.orElse(0);
	}

	/** Position of the injection with this number. */
	int indexOfInjection(int number) {
		return IntStream.range(0, this.injections.size())
			.filter((index) -> Objects.equals(this.injections.get(index).number(), number))
			.findFirst()
			.orElse(0);
	}

	/** What a complete form says. */
	SessionDetails toDetails(ZoneId zone) {
		return new SessionDetails(Objects.requireNonNull(DecimalText.whole(this.number)),
				Objects.requireNonNull(this.treatedOn), Objects.requireNonNull(this.practitioner),
				new Circumstances(DecimalText.value(this.weightKg), this.combination, DecimalText.value(this.rfDepthMm),
						DecimalText.whole(this.topicalMinutes), this.oralAnalgesic, this.vibration,
						DecimalText.whole(this.painNrs), this.massage),
				this.preparations.stream().filter((row) -> !row.isBlank()).map((row) -> row.toDetails(zone)).toList(),
				this.injections.stream().filter((row) -> !row.isBlank()).map(InjectionRow::toDetails).toList(),
				aftercare(DecimalText.value(this.topicalGrams), DecimalText.value(this.topicalAreaCm2)));
	}

	private Aftercare aftercare(@Nullable BigDecimal grams, @Nullable BigDecimal areaCm2) {
		return new Aftercare(grams, areaCm2, SideRow.of(Side.RIGHT, this.sides), SideRow.of(Side.MIDDLE, this.sides),
				SideRow.of(Side.LEFT, this.sides), this.instructionsGiven, this.instructions);
	}

	/**
	 * The session as far as it can be read while somebody is still typing.
	 * @param otherwise what stands for what is not typed yet
	 */
	RecordedSession soFar(RecordedSession otherwise, ZoneId zone) {
		var ids = this.preparations.stream()
			.filter((row) -> !row.isBlank())
			.collect(Collectors.toMap((row) -> Objects.requireNonNull(row.number()), (row) -> PreparationId.next()));
		var prepared = this.preparations.stream()
			.filter((row) -> !row.isBlank())
			.map((row) -> row.soFar(ids.get(row.number()), zone))
			.toList();
		var injected = this.injections.stream().flatMap((row) -> row.soFar(ids).stream()).toList();
		return new RecordedSession(otherwise.id(), otherwise.patient(), otherwise.series(), otherwise.number(),
				Objects.requireNonNullElse(this.treatedOn, otherwise.treatedOn()),
				Objects.requireNonNullElse(this.practitioner, otherwise.practitioner()), Typed.decimal(this.weightKg),
				this.combination, Typed.decimal(this.rfDepthMm), Typed.whole(this.topicalMinutes), this.oralAnalgesic,
				this.vibration, Typed.whole(this.painNrs), this.massage, prepared, injected,
				aftercare(Typed.decimal(this.topicalGrams), Typed.decimal(this.topicalAreaCm2)));
	}

}
