package org.seriatim.assessment.domain;

import java.time.LocalDate;
import java.util.UUID;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.hibernate.id.uuid.UuidVersion7Strategy;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.assessment.Region;
import org.seriatim.patient.PatientId;

/** What one assessor found of the pores of one region on one day. */
@Entity
@Table(name = "pore_assessment")
class PoreAssessment {

	@Id
	private UUID id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@Enumerated(EnumType.STRING)
	@Column(columnDefinition = "region")
	private Region region;

	@Embedded
	private AssessmentDay day;

	@Embedded
	private @Nullable PoreFinding finding;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected PoreAssessment() {
	}

	@SuppressWarnings("NullAway.Init")
	PoreAssessment(PatientId patient, Region region, AssessmentDay day, PoreFinding finding, Recorded recorded) {
		this.id = UuidVersion7Strategy.INSTANCE.generateUuid(null);
		this.patient = patient;
		this.region = region;
		this.day = day;
		this.finding = finding;
		this.recorded = recorded;
	}

	/** Returns whether that says anything new. */
	boolean correct(LocalDate assessedOn, PoreFinding finding, Recorded recorded) {
		if (assessedOn.equals(this.day.assessedOn()) && finding.saysTheSameAs(finding())) {
			return false;
		}
		this.day = this.day.movedTo(assessedOn);
		this.finding = finding;
		this.recorded = recorded;
		return true;
	}

	UUID id() {
		return this.id;
	}

	Region region() {
		return this.region;
	}

	AssessmentDay day() {
		return this.day;
	}

	PoreFinding finding() {
		// a value of which nothing is known comes back from the database as null
		return (this.finding != null) ? this.finding : PoreFinding.NOTHING;
	}

	Long version() {
		return this.version;
	}

	Recorded recorded() {
		return this.recorded;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof PoreAssessment assessment && this.id.equals(assessment.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Pore assessment " + this.id;
	}

}
