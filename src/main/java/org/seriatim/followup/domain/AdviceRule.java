package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Reason;
import org.seriatim.followup.Rule;
import org.seriatim.followup.Sentence;

/**
 * One rule of the interval advice: looks at the case and, if it fires, answers with a
 * reason.
 */
@FunctionalInterface
interface AdviceRule {

	/**
	 * What the rule says.
	 * @param firstSoFar first day of the window after the rules asked before
	 */
	Optional<Ruling> on(AdvisedCase advised, LocalDate firstSoFar);

	/**
	 * A rule that fired.
	 *
	 * @param notBefore day that the window must not begin before, if the rule moves it
	 * @param status what the rule asks for first
	 */
	record Ruling(Reason reason, @Nullable LocalDate notBefore, AdviceStatus status) {

		static Ruling of(Rule rule, Sentence sentence, List<Evidence> evidence) {
			return new Ruling(new Reason(rule, sentence, evidence), null, AdviceStatus.WINDOW);
		}

		Ruling notBefore(LocalDate day) {
			return new Ruling(this.reason, day, this.status);
		}

		Ruling asks(AdviceStatus first) {
			return new Ruling(this.reason, this.notBefore, first);
		}

	}

}
