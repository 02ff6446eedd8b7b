package org.seriatim.photograph.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.photograph.Purpose;
import org.seriatim.photograph.domain.EntryRefused.Rule;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Records what patients allow photographs to be used for, and its withdrawal. */
@Service
@Transactional
public class KeepConsent {

	private final Consents consents;

	private final PatientDirectory patients;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	KeepConsent(Consents consents, PatientDirectory patients, AuditLog audit, CurrentStaff staff, Clock clock,
			ApplicationEventPublisher events) {
		this.consents = consents;
		this.patients = patients;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	/** All that were ever given, the latest first. */
	@Transactional(readOnly = true)
	public List<Consent> of(PatientId patient) {
		return this.consents.findByPatientOrderByGivenOnDesc(patient);
	}

	@Transactional(readOnly = true)
	public Optional<Consent> byId(ConsentId id) {
		return this.consents.findById(id);
	}

	@Transactional(readOnly = true)
	public boolean isGiven(PatientId patient, Purpose purpose) {
		return this.consents.existsByPatientAndPurposeAndWithdrawnOnIsNull(patient, purpose);
	}

	/**
	 * @throws EntryRefused if there is one in force, or the day is still to come
	 */
	public void give(PatientId patient, Purpose purpose, LocalDate on, @Nullable String note) {
		this.patients.requireExisting(patient);
		requirePast("givenOn", on);
		if (isGiven(patient, purpose)) {
			throw new EntryRefused("purpose", Rule.CONSENT_IN_FORCE);
		}
		save(new Consent(patient, purpose, on, note, Recorded.first(this.clock.instant(), this.staff)), Action.CREATED);
	}

	/**
	 * Ends a consent. What it allowed is refused from this moment on.
	 * @throws EntryRefused if it has ended already, or on a day that cannot be
	 */
	public void withdraw(ConsentId id, LocalDate on, String reason) {
		var consent = this.consents.findById(id).orElseThrow();
		requirePast("withdrawnOn", on);
		if (!consent.isInForce()) {
			throw new EntryRefused("withdrawnOn", Rule.WITHDRAWN_ALREADY);
		}
		if (on.isBefore(consent.givenOn())) {
			throw new EntryRefused("withdrawnOn", Rule.BEFORE_IT_WAS_GIVEN, consent.givenOn());
		}
		consent.withdraw(on, Recorded.correction(this.clock.instant(), this.staff, reason));
		save(consent, Action.CORRECTED);
	}

	private void requirePast(String field, LocalDate day) {
		var today = LocalDate.now(this.clock);
		if (day.isAfter(today)) {
			throw new EntryRefused(field, Rule.IN_THE_FUTURE, today);
		}
	}

	private void save(Consent consent, Action action) {
		this.consents.saveAndFlush(consent);
		this.audit.record(action, "photograph_consent", consent.id().value(), consent.patient().value(),
				consent.purpose().word());
		this.events.publishEvent(new PatientRecordChanged(consent.patient()));
	}

}
