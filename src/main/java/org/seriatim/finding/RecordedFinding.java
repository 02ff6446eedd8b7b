package org.seriatim.finding;

import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SessionId;

/**
 * An adverse finding as it is on record, with its observations; what nobody entered is
 * {@code null}.
 *
 * @param code the key in files, without meaning
 * @param scarLabel label of the scar that it lies in
 * @param grade 1 to 5
 * @param goneOn the patient's own date of disappearance
 * @param observations by their days
 */
public record RecordedFinding(FindingId id, String code, PatientId patient, @Nullable SessionId session,
		FindingKind kind, @Nullable Region region, @Nullable ScarId scar, @Nullable String scarLabel,
		LocalDate firstNotedOn, @Nullable Integer grade, @Nullable Boolean serious, @Nullable LocalDate goneOn,
		@Nullable LocalDate closedOn, @Nullable StaffId closedBy, @Nullable String closingReason,
		List<RecordedObservation> observations) {

	public RecordedFinding {
		observations = List.copyOf(observations);
	}

	/** Whether no practitioner has closed it. */
	public boolean isOpen() {
		return this.closedOn == null;
	}

	/** A possible emergency that no practitioner has closed. */
	public boolean isOpenRedFlag() {
		return isOpen() && this.kind.isRedFlag();
	}

	/** As far as durations and advice look at it. */
	public FindingFacts facts() {
		return new FindingFacts(this.id, this.session, this.kind, this.region, this.scar, this.scarLabel,
				this.firstNotedOn, this.grade, Boolean.TRUE.equals(this.serious), this.goneOn, this.closedOn,
				this.observations.stream().map(RecordedObservation::facts).toList());
	}

}
