package org.seriatim.finding.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffDirectory;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.ReportDecision;
import org.seriatim.finding.domain.EntryRefused.Fault;
import org.seriatim.finding.domain.EntryRefused.Rule;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Records whether a finding has to be reported, and what became of it. Local law decides,
 * and the service sends nothing.
 */
@Service
@Transactional
public class ConsiderReporting {

	private final Findings findings;

	private final FindingReports reports;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final StaffDirectory members;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	ConsiderReporting(Findings findings, FindingReports reports, AuditLog audit, CurrentStaff staff,
			StaffDirectory members, Clock clock, ApplicationEventPublisher events) {
		this.findings = findings;
		this.reports = reports;
		this.audit = audit;
		this.staff = staff;
		this.members = members;
		this.clock = clock;
		this.events = events;
	}

	@Transactional(readOnly = true)
	public Optional<FindingReport> byId(FindingReportId id) {
		return this.reports.findById(id);
	}

	/** By their days. */
	@Transactional(readOnly = true)
	public List<FindingReport> of(FindingId finding) {
		return this.reports.findByFindingOrderByConsideredOnAscId(finding);
	}

	/**
	 * @throws EntryRefused if the details break a rule
	 */
	public void record(FindingId id, FindingReportDetails details) {
		var finding = this.findings.findById(id).orElseThrow();
		require(faults(finding, details, null));
		save(new FindingReport(finding, details, Recorded.first(this.clock.instant(), this.staff)), Action.CREATED);
	}

	/**
	 * Replaces what is known by a new version; what says the same as before changes
	 * nothing.
	 * @param shown the version that the form showed
	 * @throws EntryRefused if the details break a rule
	 * @throws StaleVersion if somebody else corrected it in the meantime
	 */
	public void correct(FindingReportId id, Long shown, FindingReportDetails details, String reason) {
		var known = this.reports.findById(id).orElseThrow();
		StaleVersion.unlessSame(shown, known.version(), known.recorded());
		require(faults(this.findings.findById(known.finding()).orElseThrow(), details, known.details()));
		if (known.correct(details, Recorded.correction(this.clock.instant(), this.staff, reason))) {
			save(known, Action.CORRECTED);
		}
	}

	private List<Fault> faults(Finding finding, FindingReportDetails details, @Nullable FindingReportDetails known) {
		var faults = new ArrayList<Fault>();
		var today = LocalDate.now(this.clock);
		if (details.consideredOn().isAfter(today)) {
			faults.add(Fault.of("consideredOn", Rule.IN_THE_FUTURE, today));
		}
		else if (details.consideredOn().isBefore(finding.onset().first())) {
			faults.add(Fault.of("consideredOn", Rule.BEFORE_ONSET, finding.onset().first()));
		}
		if (this.members.byId(details.consideredBy()).isEmpty()
				&& (known == null || !details.consideredBy().equals(known.consideredBy()))) {
			faults.add(Fault.of("consideredBy", Rule.NOBODY_OF_THE_CLINIC));
		}
		if (details.decision() == ReportDecision.DO_NOT_REPORT) {
			if (details.sentOn() != null || details.reference() != null || details.followUpDue() != null) {
				faults.add(Fault.of("decision", Rule.NOT_REPORTED_BUT_SENT));
			}
			return faults;
		}
		if (details.sentOn() != null && details.sentOn().isAfter(today)) {
			faults.add(Fault.of("sentOn", Rule.IN_THE_FUTURE, today));
		}
		else if (details.sentOn() != null && details.sentOn().isBefore(details.consideredOn())) {
			faults.add(Fault.of("sentOn", Rule.SENT_BEFORE_IT_WAS_CONSIDERED, details.consideredOn()));
		}
		if (details.sentOn() != null && details.recipient() == null) {
			faults.add(Fault.of("recipient", Rule.SENT_TO_NOBODY));
		}
		if (details.reference() != null && details.sentOn() == null) {
			faults.add(Fault.of("reference", Rule.REFERENCE_OF_NOTHING_SENT));
		}
		if (details.followUpDue() != null && details.followUpDue().isBefore(details.consideredOn())) {
			faults.add(Fault.of("followUpDue", Rule.DUE_BEFORE_IT_WAS_CONSIDERED, details.consideredOn()));
		}
		return faults;
	}

	private static void require(List<Fault> faults) {
		if (!faults.isEmpty()) {
			throw new EntryRefused(faults);
		}
	}

	private void save(FindingReport report, Action action) {
		this.reports.saveAndFlush(report);
		this.audit.record(action, "finding_report", report.id().value(), report.patient().value());
		this.events.publishEvent(new PatientRecordChanged(report.patient()));
	}

}
