package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.Optional;

import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Rule;
import org.seriatim.followup.Sentence;

/**
 * No lump lasted for certain, but one ended in an interval that reaches beyond the
 * threshold: the longer interval too, since waiting longer is the safe side.
 */
class PossiblyPersistentRule implements AdviceRule {

	@Override
	public Optional<Ruling> on(AdvisedCase advised, LocalDate firstSoFar) {
		var uncertain = advised.lumps()
			.stream()
			.filter((lump) -> lump.mayHaveLastedBeyond(advised.threshold()))
			.toList();
		if (uncertain.isEmpty() || !advised.persistentLumps().isEmpty()) {
			return Optional.empty();
		}
		return Optional.of(Ruling.of(Rule.POSSIBLY_PERSISTENT,
				Sentence.of("followup.rule.possibly-persistent", Argument.number(uncertain.size()),
						Argument.number(advised.threshold()), Argument.number(advised.daysIfLumpLasted())),
				Evidence.ofLumps(uncertain))
			.notBefore(advised.interval(advised.daysIfLumpLasted())));
	}

}
