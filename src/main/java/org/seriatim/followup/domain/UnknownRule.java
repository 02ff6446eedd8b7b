package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.seriatim.finding.ContactFacts;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Rule;
import org.seriatim.followup.Sentence;

/**
 * It is not known whether a lump lasted: one was there and nobody looked again, a contact
 * told of one that is not on record, or nobody has heard of the patient since.
 */
class UnknownRule implements AdviceRule {

	@Override
	public Optional<Ruling> on(AdvisedCase advised, LocalDate firstSoFar) {
		return ruling(advised).map((ruling) -> ruling.asks(AdviceStatus.WAIT_FOR_CONTACT));
	}

	private static Optional<Ruling> ruling(AdvisedCase advised) {
		if (advised.lumps().isEmpty()) {
			return withoutLump(advised);
		}
		var unseen = advised.lumps()
			.stream()
			.filter((lump) -> !lump.lastedBeyond(advised.threshold()) && !lump.isSeenGone())
			.toList();
		return unseen.isEmpty() ? Optional.empty()
				: Optional.of(Ruling.of(
						Rule.UNKNOWN, Sentence.of("followup.rule.unknown.not-seen-again",
								Argument.number(unseen.size()), Argument.number(advised.threshold())),
						Evidence.ofLumps(unseen)));
	}

	private static Optional<Ruling> withoutLump(AdvisedCase advised) {
		var reports = advised.contacts().stream().filter(ContactFacts::reportsLump).toList();
		if (!reports.isEmpty()) {
			return Optional.of(Ruling.of(Rule.UNKNOWN,
					Sentence.of("followup.rule.unknown.reported", Argument.number(reports.size())),
					reports.stream().map(Evidence::of).toList()));
		}
		var heardOf = advised.contacts().stream().anyMatch(ContactFacts::hasReached)
				|| !advised.assessedSince().isEmpty();
		return heardOf ? Optional.empty()
				: Optional.of(Ruling.of(Rule.UNKNOWN, Sentence.of("followup.rule.unknown.not-heard-of",
						Argument.number(advised.session().number()), Argument.day(advised.session().treatedOn())),
						List.of(Evidence.of(advised.session()))));
	}

}
