package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Rule;
import org.seriatim.followup.Sentence;

/**
 * The protocol's usual interval.
 */
class BaseRule implements AdviceRule {

	@Override
	public Optional<Ruling> on(AdvisedCase advised, LocalDate firstSoFar) {
		var first = advised.interval(advised.protocol().baseDays());
		return Optional.of(Ruling.of(Rule.BASE,
				Sentence.of("followup.rule.base", Argument.number(advised.protocol().baseDays()),
						Argument.number(advised.session().number()), Argument.day(first)),
				List.of(Evidence.of(advised.session())))
			.notBefore(first));
	}

}
