package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.Optional;

import org.seriatim.finding.FindingFacts;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Rule;
import org.seriatim.followup.Sentence;

/**
 * A finding of the patient that only a practitioner's closing takes out of the way.
 */
class HoldRule implements AdviceRule {

	@Override
	public Optional<Ruling> on(AdvisedCase advised, LocalDate firstSoFar) {
		var holding = advised.findings().stream().filter(FindingFacts::holdsTreatment).toList();
		if (holding.isEmpty()) {
			return Optional.empty();
		}
		return Optional.of(
				Ruling
					.of(Rule.HOLD, Sentence.of("followup.rule.hold", Argument.number(holding.size())),
							holding.stream().map(Evidence::of).toList())
					.asks(AdviceStatus.HOLD));
	}

}
