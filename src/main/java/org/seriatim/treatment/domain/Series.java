package org.seriatim.treatment.domain;

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
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesStatus;

/**
 * One patient's course of sessions towards one goal, governed by one protocol version
 * from its first day to its last.
 */
@Entity
@Table(name = "series")
public class Series {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private SeriesId id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	private int number;

	@Embedded
	private @Nullable SeriesPlan plan;

	@Enumerated(EnumType.STRING)
	private SeriesStatus status;

	private @Nullable LocalDate endedOn;

	private @Nullable String reason;

	private int protocolVersion;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Series() {
	}

	@SuppressWarnings("NullAway.Init")
	Series(PatientId patient, int number, SeriesPlan plan, int protocolVersion, Recorded recorded) {
		this.id = SeriesId.next();
		this.patient = patient;
		this.number = number;
		this.plan = plan;
		this.status = SeriesStatus.OPEN;
		this.protocolVersion = protocolVersion;
		this.recorded = recorded;
	}

	/**
	 * Replaces the plan by a new version.
	 * @return whether it says anything new
	 */
	boolean replan(SeriesPlan plan, Recorded recorded) {
		if (plan.equals(plan())) {
			return false;
		}
		this.plan = plan;
		this.recorded = recorded;
		return true;
	}

	/** Ends the series, or corrects how it ended. */
	void end(SeriesEnd end, Recorded recorded) {
		this.status = end.status();
		this.endedOn = end.on();
		this.reason = end.reason();
		this.recorded = recorded;
	}

	/** Takes the end back: it was entered by mistake. */
	void reopen(Recorded recorded) {
		if (isOpen()) {
			throw new IllegalStateException("series " + this.id + " is open");
		}
		this.status = SeriesStatus.OPEN;
		this.endedOn = null;
		this.reason = null;
		this.recorded = recorded;
	}

	public boolean isOpen() {
		return this.status == SeriesStatus.OPEN;
	}

	public SeriesId id() {
		return this.id;
	}

	public PatientId patient() {
		return this.patient;
	}

	public int number() {
		return this.number;
	}

	public SeriesPlan plan() {
		// a value of which nothing is known comes back from the database as null
		return (this.plan != null) ? this.plan : SeriesPlan.NONE;
	}

	public SeriesStatus status() {
		return this.status;
	}

	public @Nullable LocalDate endedOn() {
		return this.endedOn;
	}

	public @Nullable String reason() {
		return this.reason;
	}

	public int protocolVersion() {
		return this.protocolVersion;
	}

	public Long version() {
		return this.version;
	}

	Recorded recorded() {
		return this.recorded;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Series series && this.id.equals(series.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Series " + this.id;
	}

}
