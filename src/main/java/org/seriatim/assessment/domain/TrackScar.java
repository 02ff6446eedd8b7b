package org.seriatim.assessment.domain;

import java.time.Clock;
import java.util.Collection;
import java.util.Objects;
import java.util.Optional;

import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Begins to follow a scar and corrects what is known of it. */
@Service
@Transactional
public class TrackScar {

	private final Scars scars;

	private final TrackedScars tracked;

	private final PatientDirectory patients;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	TrackScar(Scars scars, TrackedScars tracked, PatientDirectory patients, AuditLog audit, CurrentStaff staff,
			Clock clock, ApplicationEventPublisher events) {
		this.scars = scars;
		this.tracked = tracked;
		this.patients = patients;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	@Transactional(readOnly = true)
	public Optional<Scar> byId(ScarId id) {
		return this.scars.findById(id);
	}

	/**
	 * @return the scar's label, given or proposed
	 * @throws LabelTaken if another scar of the patient has the label
	 */
	public String of(PatientId patient, ScarDetails details) {
		this.patients.requireExisting(patient);
		var scar = new Scar(patient, label(patient, details), details,
				Recorded.first(this.clock.instant(), this.staff));
		save(scar, Action.CREATED);
		return scar.label();
	}

	/**
	 * Replaces what is known by a new version; what says the same as before changes
	 * nothing.
	 * @param shown the version that the form showed
	 * @throws LabelTaken if another scar of the patient has the label
	 * @throws StaleVersion if somebody else corrected the scar in the meantime
	 */
	public void correct(ScarId id, Long shown, ScarDetails details, String reason) {
		var scar = this.scars.findById(id).orElseThrow();
		StaleVersion.unlessSame(shown, scar.version(), scar.recorded());
		var label = Objects.requireNonNullElse(details.label(), scar.label());
		if (scar.correct(label, details, Recorded.correction(this.clock.instant(), this.staff, reason))) {
			save(scar, Action.CORRECTED);
		}
	}

	private String label(PatientId patient, ScarDetails details) {
		return (details.label() != null) ? details.label()
				: ScarLabels.next(details.region(), labels(this.tracked.of(patient)));
	}

	private static Collection<String> labels(Collection<TrackedScar> scars) {
		return scars.stream().map(TrackedScar::label).toList();
	}

	private void save(Scar scar, Action action) {
		if (isTaken(scar)) {
			throw new LabelTaken();
		}
		try {
			this.scars.saveAndFlush(scar);
		}
		catch (DataIntegrityViolationException ex) {
			// two people labelled a scar alike at the same moment
			if (String.valueOf(ex.getMessage()).contains("label")) {
				throw new LabelTaken();
			}
			throw ex;
		}
		this.audit.record(action, "scar", scar.id().value(), scar.patient().value());
		this.events.publishEvent(new PatientRecordChanged(scar.patient()));
	}

	/* On paper "cml1" and "CML1" are one label. */
	private boolean isTaken(Scar scar) {
		return this.tracked.of(scar.patient())
			.stream()
			.anyMatch((other) -> other.label().equalsIgnoreCase(scar.label()) && !other.id().equals(scar.id()));
	}

}
