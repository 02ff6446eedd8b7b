package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.Optional;

import org.seriatim.finding.FindingFacts;
import org.seriatim.finding.FindingKind;
import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Rule;
import org.seriatim.followup.Sentence;

/**
 * An acne flare that nobody has seen gone: a caution, which changes no date.
 */
class OpenSkinRule implements AdviceRule {

	@Override
	public Optional<Ruling> on(AdvisedCase advised, LocalDate firstSoFar) {
		var flares = advised.findings()
			.stream()
			.filter((finding) -> finding.kind() == FindingKind.ACNE_FLARE)
			.filter(FindingFacts::isLastKnownPresent)
			.toList();
		return flares.isEmpty() ? Optional.empty()
				: Optional.of(Ruling.of(Rule.OPEN_SKIN,
						Sentence.of("followup.rule.open-skin", Argument.number(flares.size())),
						flares.stream().map(Evidence::of).toList()));
	}

}
