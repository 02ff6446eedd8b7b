package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Optional;

import org.seriatim.finding.LumpDuration;
import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Rule;
import org.seriatim.followup.Sentence;

/**
 * An advice never moves to a day before a lump had been gone for the settling margin.
 */
class SettledRule implements AdviceRule {

	@Override
	public Optional<Ruling> on(AdvisedCase advised, LocalDate firstSoFar) {
		return advised.lumps()
			.stream()
			.filter(LumpDuration::isSeenGone)
			.max(Comparator.comparingInt(SettledRule::absentBy))
			.flatMap((last) -> after(advised, last, firstSoFar));
	}

	private static int absentBy(LumpDuration lump) {
		return Objects.requireNonNull(lump.absentBy());
	}

	private Optional<Ruling> after(AdvisedCase advised, LumpDuration last, LocalDate firstSoFar) {
		var margin = advised.protocol().settlingMarginDays();
		var settled = advised.day(absentBy(last) + margin);
		if (!settled.isAfter(firstSoFar)) {
			return Optional.empty();
		}
		return Optional.of(
				Ruling
					.of(Rule.SETTLED,
							Sentence.of("followup.rule.settled", Argument.number(absentBy(last)),
									Argument.number(margin), Argument.day(settled)),
							List.of(Evidence.of(last.lump())))
					.notBefore(settled));
	}

}
