package org.seriatim.followup.domain;

import org.seriatim.bundle.RecordsImported;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.treatment.ProtocolPublished;

import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/**
 * Listens in the transaction of the writer: a change of the record and the advice that
 * follows from it stand or fall together.
 */
@Component
class AdviceFollowsRecord {

	private final KeepAdviceCurrent advice;

	AdviceFollowsRecord(KeepAdviceCurrent advice) {
		this.advice = advice;
	}

	@EventListener
	void on(PatientRecordChanged change) {
		this.advice.ofPatient(change.patient());
	}

	@EventListener
	void on(RecordsImported imported) {
		this.advice.withNewSnapshot();
	}

	@EventListener
	void on(ProtocolPublished publication) {
		this.advice.ofEverybody();
	}

}
