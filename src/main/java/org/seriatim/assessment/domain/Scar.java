package org.seriatim.assessment.domain;

import java.time.LocalDate;
import java.util.Objects;

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
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarType;
import org.seriatim.patient.PatientId;

/** One lesion followed through the series under one label. */
@Entity
@Table(name = "scar")
public class Scar {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private ScarId id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	private String label;

	@Enumerated(EnumType.STRING)
	@Column(columnDefinition = "region")
	private Region region;

	@Enumerated(EnumType.STRING)
	private ScarType type;

	@Embedded
	private @Nullable MapPosition position;

	private LocalDate firstRecordedOn;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Scar() {
	}

	@SuppressWarnings("NullAway.Init")
	Scar(PatientId patient, String label, ScarDetails details, Recorded recorded) {
		this.id = ScarId.next();
		this.patient = patient;
		become(label, details, recorded);
	}

	/**
	 * Replaces what is known by a new version.
	 * @return whether the details say anything new
	 */
	boolean correct(String label, ScarDetails details, Recorded recorded) {
		if (label.equals(this.label) && details.region() == this.region && details.type() == this.type
				&& isAt(details.position()) && details.firstRecordedOn().equals(this.firstRecordedOn)) {
			return false;
		}
		become(label, details, recorded);
		return true;
	}

	private void become(String label, ScarDetails details, Recorded recorded) {
		this.label = label;
		this.region = details.region();
		this.type = details.type();
		this.position = details.position();
		this.firstRecordedOn = details.firstRecordedOn();
		this.recorded = recorded;
	}

	private boolean isAt(@Nullable MapPosition other) {
		if (this.position == null || other == null) {
			return Objects.equals(this.position, other);
		}
		return ScarMeasurement.same(this.position.x(), other.x()) && ScarMeasurement.same(this.position.y(), other.y());
	}

	public ScarId id() {
		return this.id;
	}

	public PatientId patient() {
		return this.patient;
	}

	public String label() {
		return this.label;
	}

	public Region region() {
		return this.region;
	}

	public ScarType type() {
		return this.type;
	}

	public @Nullable MapPosition position() {
		return this.position;
	}

	public LocalDate firstRecordedOn() {
		return this.firstRecordedOn;
	}

	public Long version() {
		return this.version;
	}

	Recorded recorded() {
		return this.recorded;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Scar scar && this.id.equals(scar.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Scar " + this.id;
	}

}
