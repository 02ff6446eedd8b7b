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
import org.seriatim.finding.FindingId;
import org.seriatim.finding.domain.EntryRefused.Fault;
import org.seriatim.finding.domain.EntryRefused.Rule;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Records whether a finding was present or absent. Absent, from whomever, never closes
 * it.
 */
@Service
@Transactional
public class ObserveFinding {

	private final Findings findings;

	private final Observations observations;

	private final TreatmentHistory treatment;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	ObserveFinding(Findings findings, Observations observations, TreatmentHistory treatment, AuditLog audit,
			CurrentStaff staff, Clock clock, ApplicationEventPublisher events) {
		this.findings = findings;
		this.observations = observations;
		this.treatment = treatment;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	@Transactional(readOnly = true)
	public Optional<Observation> byId(ObservationId id) {
		return this.observations.findById(id);
	}

	/** By their days. */
	@Transactional(readOnly = true)
	public List<Observation> of(FindingId finding) {
		return this.observations.findByFindingOrderByObservedOnAscId(finding);
	}

	/**
	 * @throws EntryRefused if the details break a rule
	 */
	public void record(FindingId id, ObservationDetails details) {
		var finding = this.findings.findById(id).orElseThrow();
		require(faults(finding, details, null));
		save(finding, new Observation(id, details, Recorded.first(this.clock.instant(), this.staff)), Action.CREATED);
	}

	/**
	 * Replaces what was seen by a new version; what says the same as before changes
	 * nothing.
	 * @param shown the version that the form showed
	 * @throws EntryRefused if the details break a rule
	 * @throws StaleVersion if somebody else corrected the observation in the meantime
	 */
	public void correct(ObservationId id, Long shown, ObservationDetails details, String reason) {
		var observation = this.observations.findById(id).orElseThrow();
		StaleVersion.unlessSame(shown, observation.version(), observation.recorded());
		var finding = this.findings.findById(observation.finding()).orElseThrow();
		require(faults(finding, details, id));
		if (observation.correct(details, Recorded.correction(this.clock.instant(), this.staff, reason))) {
			save(finding, observation, Action.CORRECTED);
		}
	}

	/**
	 * Records it as part of another entry, unless this contact is on record.
	 * @return whether the contact on record says otherwise
	 */
	boolean recordUnlessKnown(Finding finding, ObservationDetails details) {
		var earlier = of(finding.id()).stream()
			.filter((other) -> other.details().isOfTheSameContactAs(details))
			.findFirst();
		if (earlier.isPresent()) {
			return earlier.get().details().present() != details.present();
		}
		save(finding, new Observation(finding.id(), details, Recorded.first(this.clock.instant(), this.staff)),
				Action.CREATED);
		return false;
	}

	private List<Fault> faults(Finding finding, ObservationDetails details, @Nullable ObservationId corrected) {
		var faults = new ArrayList<Fault>();
		var today = LocalDate.now(this.clock);
		if (details.observedOn().isAfter(today)) {
			faults.add(Fault.of("observedOn", Rule.IN_THE_FUTURE, today));
		}
		treatedOn(finding).filter(details.observedOn()::isBefore)
			.ifPresent((day) -> faults.add(Fault.of("observedOn", Rule.BEFORE_SESSION, day)));
		if (!details.present() && details.sizeMm() != null) {
			faults.add(Fault.of("sizeMm", Rule.SIZE_OF_WHAT_IS_ABSENT));
		}
		if (of(finding.id()).stream()
			.anyMatch((other) -> !other.id().equals(corrected) && other.details().isOfTheSameContactAs(details))) {
			faults.add(Fault.of("observedOn", Rule.ALREADY_OBSERVED));
		}
		return faults;
	}

	private Optional<LocalDate> treatedOn(Finding finding) {
		return Optional.ofNullable(finding.session()).flatMap(this.treatment::session).map(RecordedSession::treatedOn);
	}

	private static void require(List<Fault> faults) {
		if (!faults.isEmpty()) {
			throw new EntryRefused(faults);
		}
	}

	private void save(Finding finding, Observation observation, Action action) {
		this.observations.saveAndFlush(observation);
		this.audit.record(action, "finding_observation", observation.id().value(), finding.patient().value());
		this.events.publishEvent(new PatientRecordChanged(finding.patient()));
	}

}
