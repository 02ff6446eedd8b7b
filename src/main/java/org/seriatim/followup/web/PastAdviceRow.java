package org.seriatim.followup.web;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.followup.AdviceId;
import org.seriatim.followup.AdviceWording;
import org.seriatim.followup.Rule;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.shell.Written;

/**
 * An advice as it stood for a while, ready to be shown.
 *
 * @param until when another one took its place; none for the current one
 * @param rules in words
 * @param decidedBy who decided on it, if anybody did
 */
record PastAdviceRow(AdviceId id, int session, String from, @Nullable String until, String statusKind, String status,
		@Nullable String firstDay, @Nullable String lastDay, @Nullable String contactDay, List<String> rules,
		int protocol, int snapshot, @Nullable String decidedBy, @Nullable String decidedAt, boolean accepted,
		@Nullable String reason, @Nullable String ownFirstDay, @Nullable String ownLastDay) {

	static PastAdviceRow of(StandingAdvice given, @Nullable String decidedBy, AdviceWording wording, ZoneId zone) {
		var advice = given.advice();
		var decision = given.latestDecision();
		return new PastAdviceRow(given.id(), advice.sessionNumber(), Written.time(given.computedAt(), zone),
				(given.replacedAt() != null) ? Written.time(given.replacedAt(), zone) : null,
				FollowUpRow.kind(advice.status()), wording.brief(advice.status()), day(advice.first()),
				day(advice.last()), day(advice.nextContact()),
				advice.ruleWords().stream().map(Rule::of).map(wording::of).toList(), advice.protocolVersion(),
				given.snapshot(), decidedBy, (decision != null) ? Written.time(decision.decidedAt(), zone) : null,
				decision != null && decision.accepted(), (decision != null) ? decision.reason() : null,
				(decision != null) ? day(decision.first()) : null, (decision != null) ? day(decision.last()) : null);
	}

	private static @Nullable String day(@Nullable LocalDate day) {
		return (day != null) ? Written.day(day) : null;
	}

}
