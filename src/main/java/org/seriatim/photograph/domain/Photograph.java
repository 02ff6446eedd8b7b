package org.seriatim.photograph.domain;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Objects;
import java.util.Optional;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.hibernate.annotations.JdbcTypeCode;
import org.hibernate.type.SqlTypes;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.LightSet;
import org.seriatim.photograph.PhotographId;
import org.seriatim.photograph.View;

/** What is known of one photograph; its picture is a file. */
@Entity
@Table(name = "photograph")
public class Photograph {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private PhotographId id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	private LocalDate takenOn;

	private @Nullable LocalTime takenAt;

	@Enumerated(EnumType.STRING)
	private View view;

	@JdbcTypeCode(SqlTypes.SMALLINT)
	private @Nullable Integer yawDegrees;

	@Enumerated(EnumType.STRING)
	@Column(columnDefinition = "region")
	private @Nullable Region region;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "scar_id"))
	private @Nullable ScarId scar;

	@Enumerated(EnumType.STRING)
	private LightSet lightSet;

	private @Nullable String camera;

	@JdbcTypeCode(SqlTypes.SMALLINT)
	private @Nullable Integer distanceCm;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "taken_by"))
	private @Nullable StaffId takenBy;

	private boolean mirrored;

	private @Nullable Boolean qualityOk;

	private @Nullable String qualityNote;

	private int width;

	private int height;

	private int bytes;

	private byte[] sha256;

	@Column(name = "source_sha256")
	private byte[] source;

	@Embedded
	private @Nullable Landmarks landmarks;

	private boolean setAside;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Photograph() {
	}

	@SuppressWarnings("NullAway.Init")
	Photograph(PhotographId id, PatientId patient, PhotographDetails details, Picture picture, Recorded recorded) {
		this.id = id;
		this.patient = patient;
		this.takenBy = recorded.recordedBy();
		this.width = picture.width();
		this.height = picture.height();
		this.bytes = picture.whole().length;
		this.sha256 = picture.sha256();
		this.source = picture.source();
		become(details, recorded);
	}

	/**
	 * Replaces what was recorded by a new version.
	 * @return whether the details say anything new
	 */
	boolean correct(PhotographDetails details, Recorded correction) {
		if (details.equals(details())) {
			return false;
		}
		become(details, correction);
		return true;
	}

	private void become(PhotographDetails details, Recorded now) {
		this.takenOn = Objects.requireNonNull(details.takenOn());
		this.takenAt = details.takenAt();
		this.view = details.view();
		this.yawDegrees = details.yawDegrees();
		this.region = details.region();
		this.scar = details.scar();
		this.lightSet = details.lightSet();
		this.camera = details.camera();
		this.distanceCm = details.distanceCm();
		this.mirrored = details.mirrored();
		this.qualityOk = details.qualityOk();
		this.qualityNote = details.qualityNote();
		this.recorded = now;
	}

	boolean mark(Landmarks points, Recorded correction) {
		if (points.equals(this.landmarks)) {
			return false;
		}
		this.landmarks = points;
		this.recorded = correction;
		return true;
	}

	void setAside(boolean aside, Recorded correction) {
		this.setAside = aside;
		this.recorded = correction;
	}

	public PhotographDetails details() {
		return new PhotographDetails(this.takenOn, this.takenAt, this.view, this.yawDegrees, this.region, this.scar,
				this.lightSet, this.camera, this.distanceCm, this.mirrored, this.qualityOk, this.qualityNote);
	}

	public PhotographId id() {
		return this.id;
	}

	public PatientId patient() {
		return this.patient;
	}

	public LocalDate takenOn() {
		return this.takenOn;
	}

	public View view() {
		return this.view;
	}

	public Optional<StaffId> takenBy() {
		return Optional.ofNullable(this.takenBy);
	}

	/** In pixels. */
	public int width() {
		return this.width;
	}

	/** In pixels. */
	public int height() {
		return this.height;
	}

	/** Size of the file. */
	public int bytes() {
		return this.bytes;
	}

	byte[] sha256() {
		return this.sha256;
	}

	public Optional<Landmarks> landmarks() {
		return Optional.ofNullable(this.landmarks);
	}

	/** Whether it is kept out of sight: taken of somebody else, say. */
	public boolean isSetAside() {
		return this.setAside;
	}

	public Recorded recorded() {
		return this.recorded;
	}

	public Long version() {
		return this.version;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Photograph photograph && this.id.equals(photograph.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Photograph " + this.id;
	}

}
