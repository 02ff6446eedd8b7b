package org.seriatim.assessment.domain;

import java.time.LocalDate;
import java.util.UUID;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.hibernate.annotations.JdbcTypeCode;
import org.hibernate.id.uuid.UuidVersion7Strategy;
import org.hibernate.type.SqlTypes;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;

/**
 * What one assessor measured of one scar on one day, or measured a second time without
 * sight of the first.
 */
@Entity
@Table(name = "scar_assessment")
class ScarAssessment {

	@Id
	private UUID id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "scar_id"))
	private ScarId scar;

	@Embedded
	private AssessmentDay day;

	@JdbcTypeCode(SqlTypes.SMALLINT)
	private int repeat;

	/** Whether it was given without sight of any earlier one. */
	private @Nullable Boolean blinded;

	@Embedded
	private @Nullable ScarMeasurement measurement;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected ScarAssessment() {
	}

	@SuppressWarnings("NullAway.Init")
	ScarAssessment(PatientId patient, ScarId scar, AssessmentDay day, boolean repeat, ScarMeasurement measurement,
			Recorded recorded) {
		this.id = UuidVersion7Strategy.INSTANCE.generateUuid(null);
		this.patient = patient;
		this.scar = scar;
		this.day = day;
		this.repeat = repeat ? 1 : 0;
		this.measurement = measurement;
		this.recorded = recorded;
	}

	/** The same, given without sight of any earlier rating. */
	ScarAssessment blinded() {
		this.blinded = true;
		return this;
	}

	/** Returns whether that says anything new. */
	boolean correct(LocalDate assessedOn, ScarMeasurement measurement, Recorded recorded) {
		if (assessedOn.equals(this.day.assessedOn()) && measurement.saysTheSameAs(measurement())) {
			return false;
		}
		this.day = this.day.movedTo(assessedOn);
		this.measurement = measurement;
		this.recorded = recorded;
		return true;
	}

	UUID id() {
		return this.id;
	}

	ScarId scar() {
		return this.scar;
	}

	AssessmentDay day() {
		return this.day;
	}

	boolean isRepeat() {
		return this.repeat == 1;
	}

	ScarMeasurement measurement() {
		// a value of which nothing is known comes back from the database as null
		return (this.measurement != null) ? this.measurement : ScarMeasurement.NOTHING;
	}

	Long version() {
		return this.version;
	}

	Recorded recorded() {
		return this.recorded;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof ScarAssessment assessment && this.id.equals(assessment.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Scar assessment " + this.id;
	}

}
