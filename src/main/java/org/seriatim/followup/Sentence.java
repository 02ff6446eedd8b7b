package org.seriatim.followup;

import java.util.List;

/**
 * A sentence of an advice, to be written in the reader's language.
 *
 * @param key of the message
 * @param arguments in the order of the message's placeholders
 */
public record Sentence(String key, List<Argument> arguments) {

	public Sentence {
		arguments = List.copyOf(arguments);
	}

	public static Sentence of(String key, Argument... arguments) {
		return new Sentence(key, List.of(arguments));
	}

}
