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
import org.seriatim.access.Recorded;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.Region;
import org.seriatim.patient.PatientId;

/** How many scars of one type one assessor counted in one region on one day. */
@Entity
@Table(name = "scar_count")
class ScarCount {

	@Id
	private UUID id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@Enumerated(EnumType.STRING)
	@Column(columnDefinition = "region")
	private Region region;

	@Enumerated(EnumType.STRING)
	private CountedType type;

	@Embedded
	private AssessmentDay day;

	private int count;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected ScarCount() {
	}

	@SuppressWarnings("NullAway.Init")
	ScarCount(PatientId patient, CountCell cell, AssessmentDay day, int count, Recorded recorded) {
		this.id = UuidVersion7Strategy.INSTANCE.generateUuid(null);
		this.patient = patient;
		this.region = cell.region();
		this.type = cell.type();
		this.day = day;
		this.count = count;
		this.recorded = recorded;
	}

	/** Returns whether that says anything new. */
	boolean correct(LocalDate assessedOn, int count, Recorded recorded) {
		if (assessedOn.equals(this.day.assessedOn()) && count == this.count) {
			return false;
		}
		this.day = this.day.movedTo(assessedOn);
		this.count = count;
		this.recorded = recorded;
		return true;
	}

	UUID id() {
		return this.id;
	}

	CountCell cell() {
		return new CountCell(this.region, this.type);
	}

	AssessmentDay day() {
		return this.day;
	}

	int count() {
		return this.count;
	}

	Long version() {
		return this.version;
	}

	Recorded recorded() {
		return this.recorded;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof ScarCount assessed && this.id.equals(assessed.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Scar count " + this.id;
	}

}
