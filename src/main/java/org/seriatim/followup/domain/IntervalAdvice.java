package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.RepeatedRatings;
import org.seriatim.finding.LumpCurve;
import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.Reason;
import org.seriatim.followup.Rule;
import org.seriatim.followup.SeriesFacts;
import org.seriatim.treatment.ProtocolVersion;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.SessionFacts;

/**
 * The interval advice: a function of values that knows no clock, database or web, so the
 * same values give the same advice at any time. The usual interval and its dependence on
 * skin thickness, and the longer one after a lump that lasted: common practice, no
 * source. The clinic's protocol holds every number.
 */
public final class IntervalAdvice {

	/** In the order in which they are asked: each one sees what the earlier ones made. */
	private static final List<AdviceRule> RULES = List.of(new HoldRule(), new BaseRule(), new SkinRule(),
			new PersistentRule(), new PossiblyPersistentRule(), new SettledRule(), new StillThereRule(),
			new UnknownRule(), new PlateauRule(), new OpenSkinRule());

	private IntervalAdvice() {
	}

	/**
	 * Advises on the last session of a series. For the advice as of a day none of the
	 * four may hold a record dated later ({@link SeriesFacts#asOf(LocalDate)}).
	 * @param facts of the series and its patient
	 * @param curve of the clinic, over all lumps
	 * @param ratings the clinic's repeated ratings
	 * @return empty for a series that has ended or has no session yet
	 */
	public static Optional<Advice> advise(SeriesFacts facts, ProtocolVersion protocol, LumpCurve curve,
			RepeatedRatings ratings) {
		if (facts.status() != SeriesStatus.OPEN) {
			return Optional.empty();
		}
		var repeatability = ratings.repeatability(protocol.repeatabilityPairs(), protocol.repeatabilityPatients());
		return facts.lastSession()
			.map((session) -> advise(AdvisedCase.of(facts, session, protocol, curve, repeatability)));
	}

	private static Advice advise(AdvisedCase advised) {
		var first = advised.session().treatedOn();
		var status = AdviceStatus.WINDOW;
		var reasons = new ArrayList<Reason>();
		for (var rule : RULES) {
			var ruling = rule.on(advised, first).orElse(null);
			if (ruling != null) {
				reasons.add(ruling.reason());
				first = later(first, ruling.notBefore());
				status = (ruling.status().compareTo(status) < 0) ? ruling.status() : status;
			}
		}
		var held = status == AdviceStatus.HOLD;
		var unknown = reasons.stream().anyMatch((reason) -> reason.rule() == Rule.UNKNOWN);
		var open = unknown || reasons.stream().anyMatch((reason) -> reason.rule() == Rule.STILL_THERE);
		return new Advice(advised.facts().series(), advised.session().id(), advised.session().number(),
				advised.session().treatedOn(), status, held ? null : first, held ? null : first,
				held ? null : first.plusDays(advised.protocol().windowDays()),
				(held || !unknown) ? null : later(first, advised.interval(advised.daysIfLumpLasted())),
				ContactPlan.nextContact(advised, open).orElse(null), reasons, TechniqueNotes.on(advised),
				Cautions.on(advised), advised.protocol().number());
	}

	private static LocalDate later(LocalDate day, @Nullable LocalDate other) {
		return (other != null && other.isAfter(day)) ? other : day;
	}

}
