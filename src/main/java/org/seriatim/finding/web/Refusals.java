package org.seriatim.finding.web;

import java.time.LocalDate;
import java.util.Locale;

import org.seriatim.assessment.Region;
import org.seriatim.finding.domain.EntryRefused;
import org.seriatim.shell.Written;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;
import org.springframework.validation.Errors;

/** Puts the rules that an entry breaks beside its fields. */
@Component
class Refusals {

	private final MessageSource messages;

	Refusals(MessageSource messages) {
		this.messages = messages;
	}

	void show(EntryRefused refused, Errors errors, Locale locale) {
		for (var fault : refused.faults()) {
			var evidence = fault.evidence().stream().map((value) -> written(value, locale)).toArray();
			errors.rejectValue(fault.field(),
					"finding.rule." + fault.rule().name().toLowerCase(Locale.ROOT).replace('_', '-'), evidence, null);
		}
	}

	private String written(Object value, Locale locale) {
		if (value instanceof LocalDate day) {
			return Written.day(day);
		}
		return (value instanceof Region region) ? this.messages.getMessage("region." + region.word(), null, locale)
				: value.toString();
	}

}
