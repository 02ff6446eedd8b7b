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
import org.seriatim.finding.ActionClass;
import org.seriatim.finding.CarriedOut;
import org.seriatim.finding.domain.EntryRefused.Fault;
import org.seriatim.finding.domain.EntryRefused.Rule;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Records what was done about a finding. Nothing that was done closes it. */
@Service
@Transactional
public class TreatFinding {

	private final Findings findings;

	private final FindingActions actions;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final StaffDirectory members;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	TreatFinding(Findings findings, FindingActions actions, AuditLog audit, CurrentStaff staff, StaffDirectory members,
			Clock clock, ApplicationEventPublisher events) {
		this.findings = findings;
		this.actions = actions;
		this.audit = audit;
		this.staff = staff;
		this.members = members;
		this.clock = clock;
		this.events = events;
	}

	@Transactional(readOnly = true)
	public Optional<FindingAction> byId(FindingActionId id) {
		return this.actions.findById(id);
	}

	/** By their days. */
	@Transactional(readOnly = true)
	public List<FindingAction> of(FindingId finding) {
		return this.actions.findByFindingOrderByDoneOnAscId(finding);
	}

	/**
	 * @throws EntryRefused if the details break a rule
	 */
	public void record(FindingId id, FindingActionDetails details) {
		var finding = this.findings.findById(id).orElseThrow();
		require(faults(finding, details, null));
		save(new FindingAction(finding, details, Recorded.first(this.clock.instant(), this.staff)), Action.CREATED);
	}

	/**
	 * Replaces what is known by a new version; what says the same as before changes
	 * nothing.
	 * @param shown the version that the form showed
	 * @throws EntryRefused if the details break a rule
	 * @throws StaleVersion if somebody else corrected it in the meantime
	 */
	public void correct(FindingActionId id, Long shown, FindingActionDetails details, String reason) {
		var known = this.actions.findById(id).orElseThrow();
		StaleVersion.unlessSame(shown, known.version(), known.recorded());
		require(faults(this.findings.findById(known.finding()).orElseThrow(), details, known.details()));
		if (known.correct(details, Recorded.correction(this.clock.instant(), this.staff, reason))) {
			save(known, Action.CORRECTED);
		}
	}

	private List<Fault> faults(Finding finding, FindingActionDetails details, @Nullable FindingActionDetails known) {
		var faults = new ArrayList<Fault>();
		var today = LocalDate.now(this.clock);
		if (details.doneOn().isAfter(today)) {
			faults.add(Fault.of("doneOn", Rule.IN_THE_FUTURE, today));
		}
		else if (details.doneOn().isBefore(finding.onset().first())) {
			faults.add(Fault.of("doneOn", Rule.BEFORE_ONSET, finding.onset().first()));
		}
		if (details.carriedOut() == CarriedOut.CLINIC && details.doneBy() == null) {
			faults.add(Fault.of("doneBy", Rule.DONE_BY_NOBODY));
		}
		if (details.carriedOut() != CarriedOut.CLINIC && details.doneBy() != null) {
			faults.add(Fault.of("doneBy", Rule.DONE_BY_ANOTHER));
		}
		if (details.doneBy() != null && this.members.byId(details.doneBy()).isEmpty()
				&& (known == null || !details.doneBy().equals(known.doneBy()))) {
			faults.add(Fault.of("doneBy", Rule.NOBODY_OF_THE_CLINIC));
		}
		if (details.action() == ActionClass.OTHER && details.description() == null) {
			faults.add(Fault.of("description", Rule.ACTION_WITHOUT_WORDS));
		}
		return faults;
	}

	private static void require(List<Fault> faults) {
		if (!faults.isEmpty()) {
			throw new EntryRefused(faults);
		}
	}

	private void save(FindingAction done, Action action) {
		this.actions.saveAndFlush(done);
		this.audit.record(action, "finding_action", done.id().value(), done.patient().value());
		this.events.publishEvent(new PatientRecordChanged(done.patient()));
	}

}
