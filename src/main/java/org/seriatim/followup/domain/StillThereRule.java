package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

import org.seriatim.finding.LumpDuration;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Rule;
import org.seriatim.followup.Sentence;
import org.seriatim.statistics.DayGone;

/**
 * A lump lasted and nobody has seen it gone: ask again first. Until then the clinic's own
 * curve tells how long such a lump may still take, if it rests on enough lumps and
 * reaches far enough; if not, the sentence says so and nothing is added.
 */
class StillThereRule implements AdviceRule {

	@Override
	public Optional<Ruling> on(AdvisedCase advised, LocalDate firstSoFar) {
		var present = advised.persistentLumps().stream().filter((lump) -> !lump.isSeenGone()).toList();
		if (present.isEmpty()) {
			return Optional.empty();
		}
		var presentOn = present.stream().mapToInt(LumpDuration::lastPresent).max().orElseThrow();
		return Optional.of(provisional(advised, present, presentOn).asks(AdviceStatus.WAIT_FOR_CONTACT));
	}

	private static Ruling provisional(AdvisedCase advised, List<LumpDuration> present, int presentOn) {
		var protocol = advised.protocol();
		var lumps = advised.curve().lumps();
		if (lumps < protocol.curveLumps()) {
			return ruling(advised, present, "too-few", Argument.number(presentOn), Argument.number(lumps),
					Argument.number(protocol.curveLumps()));
		}
		var gone = advised.curve().firstDayGoneWith(protocol.clearingProbability(), presentOn);
		if (gone instanceof DayGone.Reached reached) {
			var settled = advised.day(reached.day() + protocol.settlingMarginDays());
			return ruling(advised, present, "until", Argument.number(presentOn),
					Argument.number(protocol.clearingProbability()), Argument.number(reached.day()),
					Argument.number(protocol.settlingMarginDays()), Argument.day(settled))
				.notBefore(settled);
		}
		return (gone instanceof DayGone.NoMassBeyond)
				? ruling(advised, present, "beyond-curve", Argument.number(presentOn), Argument.number(lumps))
				: ruling(advised, present, "never", Argument.number(presentOn),
						Argument.number(protocol.clearingProbability()), Argument.number(lumps));
	}

	private static Ruling ruling(AdvisedCase advised, List<LumpDuration> present, String what, Argument... arguments) {
		var evidence = new ArrayList<>(Evidence.ofLumps(present));
		evidence.add(Evidence.ofCurve(advised.curve().lumps()));
		return Ruling.of(Rule.STILL_THERE, Sentence.of("followup.rule.still-there." + what, arguments), evidence);
	}

}
