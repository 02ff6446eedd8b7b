package org.seriatim.photograph.web;

import java.time.LocalDate;
import java.util.Locale;

import org.seriatim.assessment.Region;
import org.seriatim.photograph.Purpose;
import org.seriatim.photograph.domain.EntryRefused;
import org.seriatim.photograph.domain.PictureRefused;
import org.seriatim.shell.Written;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;
import org.springframework.validation.Errors;

/** Words the rules that an entry or a file breaks. */
@Component
class PhotographRefusals {

	private static final String WHOLE = "consent";

	private final MessageSource messages;

	PhotographRefusals(MessageSource messages) {
		this.messages = messages;
	}

	/** Puts the rule beside its field, or above the form if it is of none. */
	void show(EntryRefused refused, Errors errors, Locale locale) {
		if (refused.field().equals(WHOLE)) {
			errors.reject(code(refused), evidence(refused, locale), null);
		}
		else {
			errors.rejectValue(refused.field(), code(refused), evidence(refused, locale), null);
		}
	}

	String words(EntryRefused refused, Locale locale) {
		return this.messages.getMessage(code(refused), evidence(refused, locale), locale);
	}

	String words(PictureRefused refused, Locale locale) {
		return this.messages.getMessage("photograph.refused." + word(refused.reason()), null, locale);
	}

	private static String code(EntryRefused refused) {
		return "photograph.rule." + word(refused.rule());
	}

	private static String word(Enum<?> constant) {
		return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
	}

	private Object[] evidence(EntryRefused refused, Locale locale) {
		return refused.evidence().stream().map((value) -> {
			if (value instanceof LocalDate day) {
				return Written.day(day);
			}
			if (value instanceof Region region) {
				return this.messages.getMessage("region." + region.word(), null, locale);
			}
			return (value instanceof Purpose purpose)
					? this.messages.getMessage("photograph-purpose." + purpose.word(), null, locale) : value.toString();
		}).toArray();
	}

}
