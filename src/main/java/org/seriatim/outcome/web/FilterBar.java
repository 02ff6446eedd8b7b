package org.seriatim.outcome.web;

import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.OutcomeFilter;
import org.seriatim.shell.Choice;

/**
 * The filters of an outcome page as they stand in its address, with what is wrong with
 * them. Everything chosen stays in the address, so that a view can be shared.
 *
 * @param path of the page
 * @param filter what is asked; {@link OutcomeFilter#NONE} where something is wrong
 */
record FilterBar(String path, List<Field> fields, OutcomeFilter filter) {

	/**
	 * One filter.
	 *
	 * @param name of the parameter
	 * @param chosen as it was sent; empty where nothing was
	 * @param options to choose from; none for a day
	 * @param error what to mend
	 */
	record Field(String name, String label, String chosen, List<Choice> options, @Nullable String error) {

		public boolean isDay() {
			return this.options.isEmpty();
		}

	}

	public boolean isWrong() {
		return this.fields.stream().anyMatch((field) -> field.error() != null);
	}

	/** The value of a filter that the page added to the common ones. */
	String chosen(String name) {
		return find(name).map(Field::chosen).orElse("");
	}

	Optional<Field> find(String name) {
		return this.fields.stream().filter((field) -> field.name().equals(name)).findFirst();
	}

	/** What was chosen, in words, where no form can say it: on paper. */
	public String said() {
		return this.fields.stream()
			.filter((field) -> !field.chosen().isEmpty())
			.map((field) -> field.label() + ": "
					+ field.options()
						.stream()
						.filter((option) -> option.value().equals(field.chosen()))
						.map(Choice::label)
						.findFirst()
						.orElse(field.chosen()))
			.collect(Collectors.joining("; "));
	}

	/** The question again, for an address of the same view. */
	public String query() {
		return query("", "");
	}

	/** The same with one more parameter, or with another value of one. */
	public String query(String name, String value) {
		var chosen = this.fields.stream()
			.filter((field) -> !field.name().equals(name) && !field.chosen().isEmpty())
			.map((field) -> parameter(field.name(), field.chosen()));
		var query = java.util.stream.Stream.concat(chosen,
				value.isEmpty() ? java.util.stream.Stream.empty() : java.util.stream.Stream.of(parameter(name, value)))
			.collect(Collectors.joining("&"));
		return query.isEmpty() ? "" : "?" + query;
	}

	private static String parameter(String name, String value) {
		return name + "=" + URLEncoder.encode(value, StandardCharsets.UTF_8);
	}

}
