package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.UUID;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.hibernate.id.uuid.UuidVersion7Strategy;
import org.seriatim.access.Recorded;
import org.seriatim.patient.PatientId;

/** One number of a scale of the whole face, on one day by one assessor. */
@Entity
@Table(name = "global_assessment")
class GlobalAssessment {

	@Id
	private UUID id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@Embedded
	private AssessmentDay day;

	private String scale;

	private String item;

	private BigDecimal value;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected GlobalAssessment() {
	}

	@SuppressWarnings("NullAway.Init")
	GlobalAssessment(PatientId patient, ScaleItem what, AssessmentDay day, BigDecimal value, Recorded recorded) {
		this.id = UuidVersion7Strategy.INSTANCE.generateUuid(null);
		this.patient = patient;
		this.scale = what.scale().word();
		this.item = what.item().word();
		this.day = day;
		this.value = value;
		this.recorded = recorded;
	}

	/** Returns whether that says anything new. */
	boolean correct(LocalDate assessedOn, BigDecimal value, Recorded recorded) {
		if (assessedOn.equals(this.day.assessedOn()) && value.compareTo(this.value) == 0) {
			return false;
		}
		this.day = this.day.movedTo(assessedOn);
		this.value = value;
		this.recorded = recorded;
		return true;
	}

	UUID id() {
		return this.id;
	}

	AssessmentDay day() {
		return this.day;
	}

	boolean isOf(ScaleItem what) {
		return this.scale.equals(what.scale().word()) && this.item.equals(what.item().word());
	}

	BigDecimal value() {
		return this.value;
	}

	Long version() {
		return this.version;
	}

	Recorded recorded() {
		return this.recorded;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof GlobalAssessment assessment && this.id.equals(assessment.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Global assessment " + this.id;
	}

}
