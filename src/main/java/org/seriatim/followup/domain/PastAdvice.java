package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.seriatim.assessment.RatedScar;
import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceId;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.treatment.Protocols;
import org.seriatim.treatment.SeriesId;

import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What was advised, and whether the same comes out when it is computed again. */
@Service
@Transactional(readOnly = true)
public class PastAdvice {

	private final KeptAdvice kept;

	private final Snapshots snapshots;

	private final Protocols protocols;

	PastAdvice(KeptAdvice kept, Snapshots snapshots, Protocols protocols) {
		this.kept = kept;
		this.snapshots = snapshots;
		this.protocols = protocols;
	}

	/** Everything that was ever advised on the series, the newest first. */
	public List<StandingAdvice> on(SeriesId series) {
		return this.kept.everGivenOn(series);
	}

	/**
	 * An advice with what it rested on, and what the same basis gives now.
	 *
	 * @param asOf day of the facts
	 * @param snapshotOf day of the clinic's figures
	 */
	public record Recomputed(StandingAdvice given, Advice again, LocalDate asOf, int sessions, int findings,
			int contacts, int scars, int ratings, LocalDate snapshotOf, int curveLumps, int curvePatients,
			int pairsBetween, int pairsWithin) {

		/** Whether it still comes out as it was given. */
		public boolean isSame() {
			return this.again.equals(this.given.advice());
		}

	}

	/** Computes an advice again from what is stored with it; empty if there is none. */
	public Optional<Recomputed> again(AdviceId advice) {
		return this.kept.byId(advice).map((given) -> {
			var basis = this.kept.basisOf(advice).orElseThrow();
			var snapshot = this.snapshots.byNumber(basis.snapshot()).orElseThrow();
			var figures = snapshot.figures();
			var facts = basis.facts();
			var again = IntervalAdvice
				.advise(facts, this.protocols.byNumber(basis.protocolVersion()).orElseThrow(), figures.curve(),
						figures.ratings())
				.orElseThrow();
			return new Recomputed(given, again, basis.asOf(), facts.sessions().size(), facts.findings().size(),
					facts.contacts().size(), facts.scars().size(),
					facts.scars().stream().map(RatedScar::ratings).mapToInt(List::size).sum(), snapshot.asOf(),
					figures.curve().lumps(), figures.curve().patients(),
					(figures.ratings().between() != null) ? figures.ratings().between().pairs() : 0,
					(figures.ratings().within() != null) ? figures.ratings().within().pairs() : 0);
		});
	}

}
