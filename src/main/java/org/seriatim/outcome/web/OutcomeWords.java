package org.seriatim.outcome.web;

import java.util.Locale;

import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** The texts of the outcome pages. */
@Component
class OutcomeWords {

	private final MessageSource messages;

	OutcomeWords(MessageSource messages) {
		this.messages = messages;
	}

	String text(String key, Object... arguments) {
		return this.messages.getMessage(key, (arguments.length > 0) ? arguments : null, locale());
	}

	/** A word of the records, or the word itself where it has no text. */
	String word(String vocabulary, String word) {
		return this.messages.getMessage(vocabulary + "." + word, null, word, locale());
	}

	/** The text of a message key, or what it says itself where there is no such key. */
	String label(String keyOrText) {
		return this.messages.getMessage(keyOrText, null, keyOrText, locale());
	}

	private static Locale locale() {
		return LocaleContextHolder.getLocale();
	}

}
