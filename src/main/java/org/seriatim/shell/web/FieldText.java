package org.seriatim.shell.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Choice;
import org.springframework.stereotype.Component;
import org.springframework.util.ObjectUtils;
import org.thymeleaf.context.IExpressionContext;
import org.thymeleaf.spring6.util.FieldUtils;

/** The identifiers that tie the parts of a form field together. */
@Component("fieldText")
class FieldText {

	private static final List<Choice> YES_NO_UNKNOWN = List.of(new Choice("true", "shell.yes"),
			new Choice("false", "shell.no"), new Choice("", "shell.unknown"));

	/**
	 * The value of {@code aria-describedby}, {@code null} if nothing describes the field.
	 */
	public @Nullable String describedBy(String id, @Nullable Object hint, boolean wrong) {
		return describedBy(id, hint, wrong, null, null);
	}

	/**
	 * The value of {@code aria-describedby}, {@code null} if nothing describes the field.
	 */
	public @Nullable String describedBy(String id, @Nullable Object hint, boolean wrong, @Nullable Object unit,
			@Nullable Object last) {
		var parts = new ArrayList<String>();
		if (unit != null) {
			parts.add(id + "-unit");
		}
		if (hint != null) {
			parts.add(id + "-hint");
		}
		if (last != null) {
			parts.add(id + "-last");
		}
		if (wrong) {
			parts.add(id + "-error");
		}
		return parts.isEmpty() ? null : String.join(" ", parts);
	}

	/**
	 * The first option has the id of the field, so that the error summary leads to it.
	 */
	public String optionId(String id, int index) {
		return (index == 0) ? id : id + "-" + (index + 1);
	}

	/**
	 * Whether a field holds a value, be it stored, typed or refused. Enumerations count
	 * by their word, which Thymeleaf's own comparison does not know.
	 * @param context what the template is made from, {@code #ctx}
	 * @param name path of the field within the form
	 * @param value value of one option
	 */
	public boolean holds(IExpressionContext context, String name, String value) {
		var status = FieldUtils.getBindStatus(context, "*{" + name + "}");
		if (status == null) {
			return value.isEmpty();
		}
		var held = (status.getActualValue() != null) ? status.getActualValue() : status.getValue();
		if (ObjectUtils.isArray(held)) {
			return Arrays.stream(ObjectUtils.toObjectArray(held)).anyMatch((one) -> word(one).equals(value));
		}
		if (held instanceof Collection<?> several) {
			return several.stream().anyMatch((one) -> word(one).equals(value));
		}
		return word(held).equals(value);
	}

	private static String word(@Nullable Object held) {
		return (held instanceof Enum<?> constant) ? constant.name().toLowerCase(Locale.ROOT)
				: (held != null) ? held.toString() : "";
	}

	/** The answers where no others are given; the last is that nothing is known. */
	public List<Choice> yesNoUnknown() {
		return YES_NO_UNKNOWN;
	}

}
