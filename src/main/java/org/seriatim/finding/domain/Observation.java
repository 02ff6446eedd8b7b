package org.seriatim.finding.domain;

import java.math.BigDecimal;
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
import org.seriatim.finding.Channel;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.Reporter;

/** One contact at which a finding was present or absent. */
@Entity
@Table(name = "finding_observation")
public class Observation {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private ObservationId id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "finding_id"))
	private FindingId finding;

	private LocalDate observedOn;

	@Enumerated(EnumType.STRING)
	private Reporter reporter;

	@Enumerated(EnumType.STRING)
	private Channel channel;

	private boolean present;

	private @Nullable BigDecimal sizeMm;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Observation() {
	}

	@SuppressWarnings("NullAway.Init")
	Observation(FindingId finding, ObservationDetails details, Recorded recorded) {
		this.id = ObservationId.next();
		this.finding = finding;
		become(details, recorded);
	}

	/**
	 * Replaces what was seen by a new version.
	 * @return whether the details say anything new
	 */
	boolean correct(ObservationDetails details, Recorded recorded) {
		if (details.saysTheSameAs(details())) {
			return false;
		}
		become(details, recorded);
		return true;
	}

	private void become(ObservationDetails details, Recorded recorded) {
		this.observedOn = details.observedOn();
		this.reporter = details.reporter();
		this.channel = details.channel();
		this.present = details.present();
		this.sizeMm = details.sizeMm();
		this.recorded = recorded;
	}

	public ObservationDetails details() {
		return new ObservationDetails(this.observedOn, this.reporter, this.channel, this.present, this.sizeMm);
	}

	public ObservationId id() {
		return this.id;
	}

	public FindingId finding() {
		return this.finding;
	}

	public Long version() {
		return this.version;
	}

	Recorded recorded() {
		return this.recorded;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Observation observation && this.id.equals(observation.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Observation " + this.id;
	}

}
