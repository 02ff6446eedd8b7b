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
import org.seriatim.finding.FindingId;
import org.seriatim.finding.ReportDecision;
import org.seriatim.patient.PatientId;

/**
 * A decision on whether a finding is reported to a recipient. The service keeps it and
 * sends nothing.
 */
@Entity
@Table(name = "finding_report")
public class FindingReport {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private FindingReportId id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "finding_id"))
	private FindingId finding;

	private LocalDate consideredOn;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "considered_by"))
	private StaffId consideredBy;

	@Enumerated(EnumType.STRING)
	private ReportDecision decision;

	private String reason;

	private @Nullable String recipient;

	private @Nullable LocalDate sentOn;

	private @Nullable String reference;

	private @Nullable LocalDate followUpDue;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected FindingReport() {
	}

	@SuppressWarnings("NullAway.Init")
	FindingReport(Finding finding, FindingReportDetails details, Recorded recorded) {
		this.id = FindingReportId.next();
		this.patient = finding.patient();
		this.finding = finding.id();
		become(details, recorded);
	}

	/**
	 * Replaces what is known by a new version.
	 * @return whether the details say anything new
	 */
	boolean correct(FindingReportDetails details, Recorded recorded) {
		if (details.equals(details())) {
			return false;
		}
		become(details, recorded);
		return true;
	}

	private void become(FindingReportDetails details, Recorded recorded) {
		this.consideredOn = details.consideredOn();
		this.consideredBy = details.consideredBy();
		this.decision = details.decision();
		this.reason = details.reason();
		this.recipient = details.recipient();
		this.sentOn = details.sentOn();
		this.reference = details.reference();
		this.followUpDue = details.followUpDue();
		this.recorded = recorded;
	}

	public FindingReportDetails details() {
		return new FindingReportDetails(this.consideredOn, this.consideredBy, this.decision, this.reason,
				this.recipient, this.sentOn, this.reference, this.followUpDue);
	}

	public FindingReportId id() {
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
		return this == other || other instanceof FindingReport report && this.id.equals(report.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Finding report " + this.id;
	}

}
