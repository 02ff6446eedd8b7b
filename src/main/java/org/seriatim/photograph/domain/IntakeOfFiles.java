package org.seriatim.photograph.domain;

import java.io.ByteArrayInputStream;
import java.math.BigDecimal;
import java.time.LocalDate;

import org.seriatim.patient.PatientId;
import org.seriatim.photograph.PhotographId;
import org.seriatim.photograph.PhotographIntake;
import org.seriatim.photograph.Purpose;
import org.springframework.stereotype.Component;

@Component
class IntakeOfFiles implements PhotographIntake {

	private final KeepPhotographs photographs;

	private final KeepConsent consent;

	IntakeOfFiles(KeepPhotographs photographs, KeepConsent consent) {
		this.photographs = photographs;
		this.consent = consent;
	}

	@Override
	public void allow(PatientId patient, LocalDate on) {
		this.consent.give(patient, Purpose.CARE, on, null);
	}

	@Override
	public PhotographId add(PatientId patient, Taken taken, byte[] file) {
		var details = new PhotographDetails(taken.on(), null, taken.view(), null, null, taken.scar(), taken.lightSet(),
				taken.camera(), taken.distanceCm(), false, true, null);
		return this.photographs.add(patient, details, () -> new ByteArrayInputStream(file), file.length);
	}

	@Override
	public void mark(PhotographId photograph, BigDecimal firstX, BigDecimal firstY, BigDecimal secondX,
			BigDecimal secondY) {
		this.photographs.mark(photograph, new Landmarks(firstX, firstY, secondX, secondY));
	}

}
