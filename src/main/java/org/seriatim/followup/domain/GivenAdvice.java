package org.seriatim.followup.domain;

import java.util.List;
import java.util.Optional;

import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceId;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SeriesId;

import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

@Service
@Transactional(readOnly = true)
class GivenAdvice implements CurrentAdvice {

	private final KeptAdvice kept;

	private final PastAdvice past;

	private final KeepAdviceCurrent changes;

	GivenAdvice(KeptAdvice kept, PastAdvice past, KeepAdviceCurrent changes) {
		this.kept = kept;
		this.past = past;
		this.changes = changes;
	}

	@Override
	public Optional<StandingAdvice> of(SeriesId series) {
		return this.kept.currentOf(series);
	}

	@Override
	@Transactional(propagation = Propagation.MANDATORY)
	public List<StandingAdvice> heldStill(PatientId patient) {
		this.changes.holdStill(patient);
		return this.kept.currentOf(List.of(patient));
	}

	@Override
	public List<StandingAdvice> of(PatientId patient) {
		return this.kept.currentOf(List.of(patient));
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
