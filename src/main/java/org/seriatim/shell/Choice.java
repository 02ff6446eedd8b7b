package org.seriatim.shell;

import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Locale;

/**
 * One entry of a select or of a group of radio buttons.
 *
 * @param value what the form sends
 * @param label a message key, or the text itself where there is no such key
 */
public record Choice(String value, String label) {

	/**
	 * The words of an enumeration, each labelled by the message {@code prefix.word}.
	 * @param prefix first part of the message keys, for example {@code region}
	 * @param constants the constants in the order in which they are offered
	 */
	public static List<Choice> ofWords(String prefix, Enum<?>... constants) {
		return ofWords(prefix, Arrays.asList(constants));
	}

	/**
	 * The words of an enumeration, each labelled by the message {@code prefix.word}.
	 * @param prefix first part of the message keys, for example {@code region}
	 * @param constants the constants in the order in which they are offered
	 */
	public static List<Choice> ofWords(String prefix, Collection<? extends Enum<?>> constants) {
		return constants.stream().map((constant) -> {
			var word = constant.name().toLowerCase(Locale.ROOT);
			return new Choice(word, prefix + "." + word);
		}).toList();
	}

	/**
	 * A scale of whole numbers, each labelled by the message {@code prefix.number}.
	 */
	public static List<Choice> ofGrades(String prefix, int first, int last) {
		return java.util.stream.IntStream.rangeClosed(first, last)
			.mapToObj((grade) -> new Choice(Integer.toString(grade), prefix + "." + grade))
			.toList();
	}

}
