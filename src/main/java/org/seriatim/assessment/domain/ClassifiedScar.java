package org.seriatim.assessment.domain;

import java.util.List;
import java.util.UUID;
import java.util.stream.Stream;

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
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarStanding;
import org.seriatim.patient.PatientId;

/** What one assessor said on one day had become of one scar. */
@Entity
@Table(name = "scar_state")
public class ClassifiedScar {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private ScarStateId id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "scar_id"))
	private ScarId scar;

	@Embedded
	private AssessmentDay day;

	@Enumerated(EnumType.STRING)
	@Column(name = "state")
	private ScarStanding standing;

	private UUID[] intoScars = {};

	private @Nullable String reason;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected ClassifiedScar() {
	}

	@SuppressWarnings("NullAway.Init")
	ClassifiedScar(PatientId patient, ScarId scar, AssessmentDay day, ScarStateDetails details, Recorded recorded) {
		this.id = ScarStateId.next();
		this.patient = patient;
		this.scar = scar;
		this.day = day;
		become(details, recorded);
	}

	/**
	 * Replaces what was said by a new version.
	 * @return whether the details say anything new
	 */
	boolean correct(ScarStateDetails details, Recorded recorded) {
		if (details.equals(details())) {
			return false;
		}
		become(details, recorded);
		return true;
	}

	private void become(ScarStateDetails details, Recorded recorded) {
		this.standing = details.standing();
		this.intoScars = details.into().stream().map(ScarId::value).toArray(UUID[]::new);
		this.reason = details.reason();
		this.recorded = recorded;
	}

	public ScarStateDetails details() {
		return new ScarStateDetails(this.standing, into(), this.reason);
	}

	private List<ScarId> into() {
		return Stream.of(this.intoScars).map(ScarId::new).toList();
	}

	public ScarStateId id() {
		return this.id;
	}

	public PatientId patient() {
		return this.patient;
	}

	public ScarId scar() {
		return this.scar;
	}

	public AssessmentDay day() {
		return this.day;
	}

	public Long version() {
		return this.version;
	}

	Recorded recorded() {
		return this.recorded;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof ClassifiedScar scar && this.id.equals(scar.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Scar state " + this.id;
	}

}
