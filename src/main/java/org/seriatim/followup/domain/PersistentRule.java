package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.Optional;

import org.seriatim.finding.LumpDuration;
import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Rule;
import org.seriatim.followup.Sentence;

/**
 * A lump that lasted beyond the threshold for certain: the longer interval.
 */
class PersistentRule implements AdviceRule {

	@Override
	public Optional<Ruling> on(AdvisedCase advised, LocalDate firstSoFar) {
		var persistent = advised.persistentLumps();
		if (persistent.isEmpty()) {
			return Optional.empty();
		}
		var longest = persistent.stream().mapToInt(LumpDuration::lastPresent).max().orElseThrow();
		return Optional.of(Ruling
			.of(Rule.PERSISTENT,
					Sentence.of("followup.rule.persistent", Argument.number(persistent.size()),
							Argument.number(advised.threshold()), Argument.number(longest),
							Argument.number(advised.daysIfLumpLasted())),
					Evidence.ofLumps(persistent))
			.notBefore(advised.interval(advised.daysIfLumpLasted())));
	}

}
