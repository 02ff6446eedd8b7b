package org.seriatim.finding.domain;

import java.time.LocalDate;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.finding.ActionClass;
import org.seriatim.finding.CarriedOut;
import org.seriatim.finding.FindingId;
import org.seriatim.patient.PatientId;

/** Something that was done about a finding. */
@Entity
@Table(name = "finding_action")
public class FindingAction {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private FindingActionId id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "finding_id"))
	private FindingId finding;

	private LocalDate doneOn;

	@Enumerated(EnumType.STRING)
	private ActionClass action;

	@Enumerated(EnumType.STRING)
	private CarriedOut carriedOut;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "done_by"))
	private @Nullable StaffId doneBy;

	private @Nullable String description;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected FindingAction() {
	}

	@SuppressWarnings("NullAway.Init")
	FindingAction(Finding finding, FindingActionDetails details, Recorded recorded) {
		this.id = FindingActionId.next();
		this.patient = finding.patient();
		this.finding = finding.id();
		become(details, recorded);
	}

	/**
	 * Replaces what was done by a new version.
	 * @return whether the details say anything new
	 */
	boolean correct(FindingActionDetails details, Recorded recorded) {
		if (details.equals(details())) {
			return false;
		}
		become(details, recorded);
		return true;
	}

	private void become(FindingActionDetails details, Recorded recorded) {
		this.doneOn = details.doneOn();
		this.action = details.action();
		this.carriedOut = details.carriedOut();
		this.doneBy = details.doneBy();
		this.description = details.description();
		this.recorded = recorded;
	}

	public FindingActionDetails details() {
		return new FindingActionDetails(this.doneOn, this.action, this.carriedOut, this.doneBy, this.description);
	}

	public FindingActionId id() {
		return this.id;
	}

	public FindingId finding() {
		return this.finding;
	}

	public PatientId patient() {
		return this.patient;
	}

	public Long version() {
		return this.version;
	}

	Recorded recorded() {
		return this.recorded;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof FindingAction action && this.id.equals(action.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Finding action " + this.id;
	}

}
