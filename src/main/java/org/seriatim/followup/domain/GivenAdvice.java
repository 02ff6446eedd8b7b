package org.seriatim.followup.domain;

import java.util.List;
import java.util.Optional;

import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceId;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.treatment.SeriesId;

import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

@Service
@Transactional(readOnly = true)
class GivenAdvice implements CurrentAdvice {

	private final KeptAdvice kept;

	private final PastAdvice past;

	GivenAdvice(KeptAdvice kept, PastAdvice past) {
		this.kept = kept;
		this.past = past;
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
		return this.past.again(advice).map(PastAdvice.Recomputed::again);
	}

}
