package org.seriatim.outcome.web;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarType;
import org.seriatim.outcome.domain.OutcomeChoices;
import org.seriatim.outcome.domain.OutcomeFilter;
import org.seriatim.outcome.domain.Practitioners;
import org.seriatim.outcome.domain.Practitioners.Practitioner;
import org.seriatim.shell.Choice;
import org.seriatim.treatment.Combination;
import org.springframework.stereotype.Component;

/**
 * Reads the filters that all outcome pages share, and those that one page adds. What
 * cannot be read is kept as it was sent, with a sentence that says what to choose.
 */
@Component
class FilterReader {

	/** Days outside of these are slips of the hand. */
	private static final LocalDate FIRST_DAY = LocalDate.of(1900, 1, 1);

	private static final LocalDate LAST_DAY = LocalDate.of(2199, 12, 31);

	private final OutcomeChoices choices;

	private final Practitioners practitioners;

	private final CurrentStaff staff;

	private final OutcomeWords words;

	FilterReader(OutcomeChoices choices, Practitioners practitioners, CurrentStaff staff, OutcomeWords words) {
		this.choices = choices;
		this.practitioners = practitioners;
		this.staff = staff;
		this.words = words;
	}

	/**
	 * A choice that only one page has.
	 *
	 * @param name of the parameter
	 * @param standard what counts where nothing was chosen; empty for any
	 */
	record Extra(String name, List<Choice> options, String standard) {

		static Extra ofWords(String name, String prefix, String standard, List<String> words) {
			return new Extra(name, words.stream().map((word) -> new Choice(word, prefix + "." + word)).toList(),
					standard);
		}

	}

	FilterBar read(String path, Map<String, String> sent, Extra... extras) {
		var fields = new ArrayList<FilterBar.Field>();
		for (Extra extra : extras) {
			var chosen = value(sent, extra.name());
			fields.add(choice(extra.name(), chosen.isEmpty() ? extra.standard() : chosen, extra.options()));
		}
		var from = day("from", value(sent, "from"), null);
		var to = day("to", value(sent, "to"),
				(from.error() == null && !from.chosen().isEmpty()) ? LocalDate.parse(from.chosen()) : null);
		fields.add(from);
		fields.add(to);
		var treated = this.practitioners.all();
		boolean named = this.practitioners.areNamed();
		var who = practitioner(value(sent, "practitioner"), treated, named);
		fields.add(who);
		fields.add(choice("product", value(sent, "product"), names(this.choices.products())));
		fields.add(choice("lot", value(sent, "lot"), names(this.choices.lots())));
		fields.add(choice("region", value(sent, "region"), Choice.ofWords("region", Region.values())));
		fields.add(choice("phototype", value(sent, "phototype"),
				IntStream.rangeClosed(1, 6).mapToObj((type) -> new Choice("" + type, "phototype." + type)).toList()));
		fields.add(choice("scar_type", value(sent, "scar_type"), Choice.ofWords("scar-type", ScarType.values())));
		fields.add(
				choice("combination", value(sent, "combination"), Choice.ofWords("combination", Combination.values())));
		var bar = new FilterBar(path, List.copyOf(fields), OutcomeFilter.NONE);
		return bar.isWrong() ? bar : new FilterBar(path, bar.fields(), filter(bar, treated));
	}

	private static OutcomeFilter filter(FilterBar bar, List<Practitioner> treated) {
		return new OutcomeFilter(day(bar.chosen("from")), day(bar.chosen("to")),
				treated.stream()
					.filter((practitioner) -> practitioner.code().equals(bar.chosen("practitioner")))
					.map(Practitioner::id)
					.findFirst()
					.orElse(null),
				some(bar.chosen("product")), some(bar.chosen("lot")), constant(Region.values(), bar.chosen("region")),
				bar.chosen("phototype").isEmpty() ? null : Integer.valueOf(bar.chosen("phototype")),
				constant(ScarType.values(), bar.chosen("scar_type")),
				constant(Combination.values(), bar.chosen("combination")));
	}

	private static @Nullable LocalDate day(String chosen) {
		return chosen.isEmpty() ? null : LocalDate.parse(chosen);
	}

	private static @Nullable String some(String chosen) {
		return chosen.isEmpty() ? null : chosen;
	}

	private static <E extends Enum<E>> @Nullable E constant(E[] constants, String word) {
		return Arrays.stream(constants)
			.filter((constant) -> constant.name().toLowerCase(Locale.ROOT).equals(word))
			.findFirst()
			.orElse(null);
	}

	private static List<Choice> names(List<String> names) {
		return names.stream().map((name) -> new Choice(name, name)).toList();
	}

	/**
	 * By code, which does not tell who it is; by name only for who may know it, so that
	 * nobody learns a code by asking for a name.
	 */
	private FilterBar.Field practitioner(String chosen, List<Practitioner> treated, boolean named) {
		var byName = (named || this.staff.has(Role.CLINIC_LEAD))
				? treated.stream().filter((practitioner) -> practitioner.name().equals(chosen)).findFirst() : null;
		var code = (byName != null) ? byName.map(Practitioner::code).orElse(chosen) : chosen;
		return choice("practitioner", code, treated.stream()
			.map((practitioner) -> new Choice(practitioner.code(), named ? practitioner.name() : practitioner.code()))
			.toList());
	}

	private FilterBar.Field choice(String name, String chosen, List<Choice> options) {
		boolean offered = chosen.isEmpty() || options.stream().anyMatch((option) -> option.value().equals(chosen));
		var labelled = options.stream()
			.map((option) -> new Choice(option.value(), this.words.label(option.label())))
			.toList();
		// a filter without anything to choose from is still a filter
		var shown = labelled.isEmpty() ? List.of(new Choice("", this.words.text("outcome.filter.nothing"))) : labelled;
		return new FilterBar.Field(name, this.words.text("outcome.filter." + name), chosen, shown,
				offered ? null : this.words.text("outcome.filter.not-offered"));
	}

	private FilterBar.Field day(String name, String sent, @Nullable LocalDate notBefore) {
		return new FilterBar.Field(name, this.words.text("outcome.filter." + name), sent, List.of(),
				fault(sent, notBefore));
	}

	private @Nullable String fault(String sent, @Nullable LocalDate notBefore) {
		if (sent.isEmpty()) {
			return null;
		}
		try {
			var day = LocalDate.parse(sent);
			if (day.isBefore(FIRST_DAY) || day.isAfter(LAST_DAY)) {
				return this.words.text("outcome.filter.not-a-day");
			}
			return (notBefore != null && day.isBefore(notBefore)) ? this.words.text("outcome.filter.ends-before")
					: null;
		}
		catch (DateTimeException ex) {
			return this.words.text("outcome.filter.not-a-day");
		}
	}

	private static String value(Map<String, String> sent, String name) {
		return Objects.requireNonNullElse(sent.get(name), "").strip();
	}

}
