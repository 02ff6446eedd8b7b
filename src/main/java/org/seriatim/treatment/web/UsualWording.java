package org.seriatim.treatment.web;

import java.math.BigDecimal;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.seriatim.treatment.domain.UsualMeasure;
import org.seriatim.treatment.domain.UsualPractice;
import org.seriatim.treatment.domain.UsualPractice.Range;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** Words the clinic's usual practice. */
@Component
class UsualWording {

	private final MessageSource messages;

	UsualWording(MessageSource messages) {
		this.messages = messages;
	}

	/**
	 * What stands beside the entry: the notes on the whole sitting, and the ranges.
	 *
	 * @param notes in their order
	 * @param ranges one sentence each
	 */
	record Beside(List<String> notes, List<String> ranges) {
	}

	Beside beside(UsualPractice practice, Locale locale) {
		return new Beside(List.copyOf(practice.general().values()), practice.ranges()
			.entrySet()
			.stream()
			.sorted(Map.Entry.comparingByKey())
			.map((one) -> say(locale, "treatment.usual.line", say(locale, "usual-measure." + one.getKey().word()),
					range(one.getValue(), one.getKey(), locale)))
			.toList());
	}

	String range(Range range, UsualMeasure measure, Locale locale) {
		if (range.low() == null) {
			return say(locale, "treatment.usual.at-most", figure(range.high(), measure));
		}
		if (range.high() == null) {
			return say(locale, "treatment.usual.at-least", figure(range.low(), measure));
		}
		return (range.low().compareTo(range.high()) == 0) ? figure(range.low(), measure)
				: say(locale, "treatment.usual.between", plain(range.low()), figure(range.high(), measure));
	}

	static String figure(@Nullable BigDecimal value, UsualMeasure measure) {
		return measure.unit().isEmpty() ? plain(value) : plain(value) + "\u00a0" + measure.unit();
	}

	private static String plain(@Nullable BigDecimal value) {
		return (value != null) ? value.toPlainString() : "\u2013";
	}

	private String say(Locale locale, String key, Object... arguments) {
		return this.messages.getMessage(key, arguments, locale);
	}

}
