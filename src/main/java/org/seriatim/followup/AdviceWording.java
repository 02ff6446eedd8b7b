package org.seriatim.followup;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Locale;
import java.util.stream.Collectors;

import org.seriatim.shell.Written;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** Writes the sentences of an advice for the person who reads the page. */
@Component
public class AdviceWording {

	private final MessageSource messages;

	AdviceWording(MessageSource messages) {
		this.messages = messages;
	}

	public String of(Sentence sentence) {
		var arguments = sentence.arguments().stream().map(this::value).toArray();
		return this.messages.getMessage(sentence.key(), arguments, LocaleContextHolder.getLocale());
	}

	/** What people call the record. */
	public String of(Evidence evidence) {
		return this.messages
			.getMessage("followup.evidence." + evidence.kind().name().toLowerCase(Locale.ROOT),
					new Object[] { evidence.label().stream().map(this::text).collect(Collectors.joining(" · ")),
							(evidence.on() != null) ? Written.day(evidence.on()) : "" },
					LocaleContextHolder.getLocale());
	}

	/** A rule in a word or two. */
	public String of(Rule rule) {
		return this.messages.getMessage("followup.rule-name." + rule.word(), null, LocaleContextHolder.getLocale());
	}

	/** A status as what is to be done. */
	public String of(AdviceStatus status) {
		return this.messages.getMessage("followup.status." + status.word(), null, LocaleContextHolder.getLocale());
	}

	/** The same in two or three words, for lists. */
	public String brief(AdviceStatus status) {
		return this.messages.getMessage("followup.status-short." + status.word(), null,
				LocaleContextHolder.getLocale());
	}

	private String text(Argument argument) {
		return value(argument).toString();
	}

	/** A number stays one, so that the message may choose by it. */
	private Object value(Argument argument) {
		return switch (argument.kind()) {
			case NUMBER -> new BigDecimal(argument.value());
			case WORD -> this.messages.getMessage(argument.value(), null, LocaleContextHolder.getLocale());
			case DAY -> Written.day(LocalDate.parse(argument.value()));
			case TEXT -> argument.value();
		};
	}

}
