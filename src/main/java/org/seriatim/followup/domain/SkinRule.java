package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.seriatim.followup.Argument;
import org.seriatim.followup.Rule;
import org.seriatim.followup.Sentence;

/**
 * The protocol's shift for the thickness of the skin, which is part of the intervals
 * themselves ({@link AdvisedCase#interval(int)}).
 */
class SkinRule implements AdviceRule {

	@Override
	public Optional<Ruling> on(AdvisedCase advised, LocalDate firstSoFar) {
		var thickness = advised.facts().skinThickness();
		var shift = advised.skinShift();
		if (thickness == null || shift == 0) {
			return Optional.empty();
		}
		var key = (shift > 0) ? "followup.rule.skin.later" : "followup.rule.skin.earlier";
		return Optional.of(Ruling.of(Rule.SKIN,
				Sentence.of(key, Argument.word("skin-thickness", thickness.word()), Argument.number(Math.abs(shift))),
				List.of()));
	}

}
