package org.seriatim.record.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.shell.Written;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** The words and sentences of the pages, in the reader's language. */
@Component
class Texts {

	/** Where nothing was recorded. */
	static final String NONE = "–";

	private final MessageSource messages;

	Texts(MessageSource messages) {
		this.messages = messages;
	}

	/** The message with this key; arguments that are numbers may choose its form. */
	String say(String key, @Nullable Object... arguments) {
		return this.messages.getMessage(key, arguments, LocaleContextHolder.getLocale());
	}

	/** The text of a word of the records; a dash where nothing was recorded. */
	String word(String vocabulary, @Nullable Enum<?> word) {
		return (word != null) ? word(vocabulary, word.name().toLowerCase(Locale.ROOT)) : NONE;
	}

	/** The text of a word of the records; the word itself where there is none. */
	String word(String vocabulary, String word) {
		var text = this.messages.getMessage(vocabulary + "." + word, null, word, LocaleContextHolder.getLocale());
		return (text != null) ? text : word;
	}

	String region(@Nullable Region region) {
		return word("region", region);
	}

	/** Regions in their own order, each once: Forehead, Nose. */
	String regions(Iterable<Region> regions) {
		var names = new ArrayList<String>();
		regions.forEach((region) -> names.add(region(region)));
		return String.join(", ", names);
	}

	/** How far a day is from another one: in 12 days, today, 3 days ago. */
	String away(LocalDate day, LocalDate today) {
		var days = ChronoUnit.DAYS.between(today, day);
		if (days == 0) {
			return say("record.away.today");
		}
		return (days > 0) ? say("record.away.in", days) : say("record.away.ago", -days);
	}

	/** Yes, no, or a dash where nobody asked. */
	String truth(@Nullable Boolean value) {
		return (value != null) ? say(value ? "shell.yes" : "shell.no") : NONE;
	}

	static String whole(@Nullable Integer value) {
		return (value != null) ? value.toString() : NONE;
	}

	static String day(@Nullable LocalDate day) {
		return (day != null) ? Written.day(day) : NONE;
	}

	static String text(@Nullable String value) {
		return (value != null) ? value : NONE;
	}

	/** As it was measured, without rounding. */
	static String exact(@Nullable BigDecimal value) {
		return (value != null) ? value.toPlainString() : NONE;
	}

	static String joined(List<String> parts) {
		return parts.isEmpty() ? NONE : String.join(", ", parts);
	}

}
