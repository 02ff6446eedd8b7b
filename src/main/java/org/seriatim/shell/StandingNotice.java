package org.seriatim.shell;

import java.util.List;
import java.util.Optional;

/**
 * Something that goes on until somebody deals with it, and is therefore said at the head
 * of their first page and of the pages of setup. Modules declare theirs as beans; it is
 * said to whom the one table of routes lets open the page that it leads to.
 */
public interface StandingNotice {

	/** Address within the application of the page where it is dealt with. */
	String path();

	/** What is to be said now, if anything. */
	Optional<Said> now();

	/**
	 * @param message message key of the sentence
	 * @param arguments what the sentence is about
	 * @param link message key of the words that lead to the page
	 */
	record Said(String message, List<Object> arguments, String link) {

		public Said {
			arguments = List.copyOf(arguments);
		}

	}

}
