package org.seriatim.followup.domain;

import java.util.List;
import java.util.Optional;

import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceId;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.treatment.Protocols;
import org.seriatim.treatment.SeriesId;

import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

@Service
@Transactional(readOnly = true)
class GivenAdvice implements CurrentAdvice {

	private final KeptAdvice kept;

	private final Snapshots snapshots;

	private final Protocols protocols;

	GivenAdvice(KeptAdvice kept, Snapshots snapshots, Protocols protocols) {
		this.kept = kept;
		this.snapshots = snapshots;
		this.protocols = protocols;
	}

	@Override
	public Optional<StandingAdvice> of(SeriesId series) {
		return this.kept.currentOf(series);
	}

	@Override
	public List<StandingAdvice> everGivenOn(SeriesId series) {
		return this.kept.everGivenOn(series);
	}

	@Override
	public Optional<Advice> asItWas(AdviceId advice) {
		return this.kept.basisOf(advice).flatMap((basis) -> {
			var figures = this.snapshots.byNumber(basis.snapshot()).orElseThrow().figures();
			var protocol = this.protocols.byNumber(basis.protocolVersion()).orElseThrow();
			return IntervalAdvice.advise(basis.facts(), protocol, figures.curve(), figures.ratings());
		});
	}

}
