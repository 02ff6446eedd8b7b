package org.seriatim.assessment.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.domain.AlreadyAssessed;
import org.seriatim.assessment.domain.NoFirstRating;
import org.seriatim.assessment.domain.PoreFinding;
import org.seriatim.assessment.domain.ScaleItem;
import org.seriatim.assessment.domain.ScarMeasurement;
import org.seriatim.assessment.domain.VisitEntry;
import org.springframework.http.HttpStatus;
import org.springframework.validation.BindingResult;
import org.springframework.web.server.ResponseStatusException;

/**
 * Reads the form of a visit and says at each field what is wrong with it.
 */
final class AssessmentReading {

	private final AssessmentForm form;

	private final BindingResult errors;

	private final Map<String, TrackedScar> scars;

	private final @Nullable LocalDate day;

	/**
	 * @param scars the patient's
	 * @throws ResponseStatusException if the form names a scar, a region or a scale that
	 * it did not get from us
	 */
	AssessmentReading(AssessmentForm form, List<TrackedScar> scars, LocalDate today, BindingResult errors) {
		this.form = form;
		this.errors = errors;
		this.scars = scars.stream().collect(Collectors.toMap((scar) -> scar.id().toString(), (scar) -> scar));
		this.day = day(form.assessedOn(), today, errors);
	}

	/** The day that was entered, or {@code null} with an error at the field. */
	static @Nullable LocalDate day(@Nullable String typed, LocalDate today, BindingResult errors) {
		if (typed == null) {
			return null;
		}
		try {
			var day = LocalDate.parse(typed);
			if (day.isAfter(today)) {
				errors.rejectValue("assessedOn", "assessment.day.future");
			}
			return day;
		}
		catch (DateTimeParseException ex) {
			errors.rejectValue("assessedOn", "typeMismatch.java.time.LocalDate");
			return null;
		}
	}

	LocalDate day() {
		return Objects.requireNonNull(this.day);
	}

	/**
	 * What the form says; empty when something in it is wrong.
	 */
	Optional<VisitEntry> entry() {
		var entry = new VisitEntry(measurements(), findings(), values());
		return this.errors.hasErrors() ? Optional.empty() : Optional.of(entry);
	}

	private Map<ScarId, ScarMeasurement> measurements() {
		var measurements = new HashMap<ScarId, ScarMeasurement>();
		// one error is enough for a method that does not exist
		var usualMethod = this.errors.hasFieldErrors("usualMethod") ? DepthMethod.OTHER.word()
				: this.form.usualMethod();
		for (int at = 0; at < this.form.scars().size(); at++) {
			var row = this.form.scars().get(at);
			var scar = Optional.ofNullable(row.scar()).map(this.scars::get).orElseThrow(AssessmentReading::foreign);
			var line = "scars[" + at + "].";
			if (!this.errors.hasFieldErrors(line + "*")) {
				var measurement = row.toMeasurement(usualMethod);
				measurement.contradictions(scar.type())
					.forEach((contradiction) -> this.errors.rejectValue(line + contradiction.field(),
							"assessment.contradiction." + word(contradiction)));
				measurements.put(scar.id(), measurement);
			}
		}
		return measurements;
	}

	private Map<Region, PoreFinding> findings() {
		var findings = new EnumMap<Region, PoreFinding>(Region.class);
		for (int at = 0; at < this.form.pores().size(); at++) {
			var row = this.form.pores().get(at);
			var region = region(row);
			if (!this.errors.hasFieldErrors("pores[" + at + "].*")) {
				findings.put(region, row.toFinding());
			}
		}
		return findings;
	}

	private Map<ScaleItem, BigDecimal> values() {
		var values = new HashMap<ScaleItem, BigDecimal>();
		for (int at = 0; at < this.form.scales().size(); at++) {
			var row = this.form.scales().get(at);
			var item = item(row);
			if (row.value() == null) {
				continue;
			}
			var number = row.number();
			if (number == null || !item.admits(number)) {
				this.errors.rejectValue("scales[" + at + "].value", "assessment.scale.range",
						new Object[] { item.item().least(), item.item().largest() }, null);
			}
			else {
				values.put(item, number);
			}
		}
		return values;
	}

	/** Says of a correction which numbers of scales may not become empty again. */
	void refuseToEmpty(VisitEntry before) {
		for (int at = 0; at < this.form.scales().size(); at++) {
			var row = this.form.scales().get(at);
			if (row.value() == null && before.scales().containsKey(item(row))) {
				this.errors.rejectValue("scales[" + at + "].value", "assessment.scale.kept");
			}
		}
	}

	/** Says at each line what was entered before. */
	void refuse(AlreadyAssessed twice) {
		refuse(twice, "lengthMm");
	}

	/**
	 * @param field of the line of a scar, at which it is said
	 */
	void refuse(AlreadyAssessed twice, String field) {
		if (twice.what().isEmpty()) {
			this.errors.rejectValue("assessedOn", "assessment.day.taken");
			return;
		}
		lines(this.form.scars(), (row) -> this.scars.get(row.scar()).id(), twice.what())
			.forEach((at) -> this.errors.rejectValue("scars[" + at + "]." + field, "assessment.twice"));
		lines(this.form.pores(), AssessmentReading::region, twice.what())
			.forEach((at) -> this.errors.rejectValue("pores[" + at + "].grade", "assessment.twice"));
		lines(this.form.scales(), AssessmentReading::item, twice.what())
			.forEach((at) -> this.errors.rejectValue("scales[" + at + "].value", "assessment.twice"));
	}

	/** Says at each line that there is nothing to repeat. */
	void refuse(NoFirstRating without) {
		refuse(without, "lengthMm");
	}

	/**
	 * @param field of the line of a scar, at which it is said
	 */
	void refuse(NoFirstRating without, String field) {
		lines(this.form.scars(), (row) -> this.scars.get(row.scar()).id(), without.scars())
			.forEach((at) -> this.errors.rejectValue("scars[" + at + "]." + field, "assessment.repeat.no-first"));
	}

	private static <R> IntStream lines(List<R> rows, Function<R, ?> about, Set<?> wanted) {
		return IntStream.range(0, rows.size()).filter((at) -> wanted.contains(about.apply(rows.get(at))));
	}

	static Region region(PoreRow row) {
		for (Region region : Region.values()) {
			if (region.word().equals(row.region())) {
				return region;
			}
		}
		throw foreign();
	}

	static ScaleItem item(ScaleRow row) {
		return ScaleItem.all()
			.stream()
			.filter((item) -> ScaleRow.key(item).equals(row.item()))
			.findFirst()
			.orElseThrow(AssessmentReading::foreign);
	}

	private static String word(Enum<?> constant) {
		return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
	}

	private static ResponseStatusException foreign() {
		return new ResponseStatusException(HttpStatus.BAD_REQUEST);
	}

}
