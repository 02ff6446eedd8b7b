package org.seriatim.followup.domain;

import org.seriatim.followup.SeriesFacts;
import org.seriatim.patient.PatientId;

/** The facts of a series and whose it is. */
record RecordedSeries(PatientId patient, String recordNumber, SeriesFacts facts) {
}
