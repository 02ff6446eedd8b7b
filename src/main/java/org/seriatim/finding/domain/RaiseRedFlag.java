package org.seriatim.finding.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.finding.Channel;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.Reporter;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * Raises the caution of a possible emergency, at once and with nothing but what was told.
 * It is committed by itself, so that whatever else is refused afterwards cannot take it
 * back. The finding is counted from the patient's last session until somebody knows
 * better.
 */
@Service
@Transactional(propagation = Propagation.REQUIRES_NEW)
public class RaiseRedFlag {

	private final Findings findings;

	private final ObserveFinding observe;

	private final TreatmentHistory treatment;

	private final PatientDirectory patients;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	RaiseRedFlag(Findings findings, ObserveFinding observe, TreatmentHistory treatment, PatientDirectory patients,
			AuditLog audit, CurrentStaff staff, Clock clock, ApplicationEventPublisher events) {
		this.findings = findings;
		this.observe = observe;
		this.treatment = treatment;
		this.patients = patients;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	/**
	 * Raises one for each kind that the signs stand for; told again while it is open, it
	 * stays one.
	 * @param signs at least one
	 * @return the findings, in the order of the signs
	 */
	public List<FindingId> of(PatientId patient, Collection<RedFlagSign> signs, Reporter reporter, Channel channel) {
		if (signs.isEmpty()) {
			throw new IllegalArgumentException("signs must not be empty");
		}
		Map<FindingKind, Set<RedFlagSign>> byKind = signs.stream()
			.sorted()
			.collect(Collectors.groupingBy(RedFlagSign::kind, LinkedHashMap::new, Collectors.toSet()));
		return byKind.entrySet()
			.stream()
			.map((kind) -> raise(patient, kind.getKey(), kind.getValue(), reporter, channel))
			.toList();
	}

	/**
	 * Raises one of a kind that somebody chose.
	 * @throws IllegalArgumentException if the kind is no red flag
	 */
	public FindingId of(PatientId patient, FindingKind kind, Reporter reporter, Channel channel) {
		if (!kind.isRedFlag()) {
			throw new IllegalArgumentException("kind must be a red flag, was " + kind);
		}
		return raise(patient, kind, Set.of(), reporter, channel);
	}

	private FindingId raise(PatientId patient, FindingKind kind, Set<RedFlagSign> signs, Reporter reporter,
			Channel channel) {
		this.patients.requireExisting(patient);
		var today = LocalDate.now(this.clock);
		var open = this.findings.findByPatient(patient)
			.stream()
			.filter((finding) -> finding.isOpenRedFlag() && finding.kind() == kind)
			.findFirst();
		var finding = open.orElseGet(() -> new Finding(patient, new FindingDetails(lastSession(patient, today), kind,
				null, null, today, null, null, null, null, null, null, FindingParticulars.UNKNOWN), first()));
		var isNew = open.isEmpty();
		if (finding.add(signs, isNew ? first() : again()) || isNew) {
			this.findings.saveAndFlush(finding);
			this.audit.record(isNew ? Action.CREATED : Action.CORRECTED, "finding", finding.id().value(),
					patient.value());
			this.events.publishEvent(new PatientRecordChanged(patient));
		}
		this.observe.recordUnlessKnown(finding, new ObservationDetails(today, reporter, channel, true, null));
		return finding.id();
	}

	private Recorded first() {
		return Recorded.first(this.clock.instant(), this.staff);
	}

	private Recorded again() {
		return Recorded.correction(this.clock.instant(), this.staff, "further signs reported");
	}

	private @Nullable SessionId lastSession(PatientId patient, LocalDate today) {
		Optional<RecordedSession> last = this.treatment.sessionsOf(patient)
			.stream()
			.filter((session) -> !session.treatedOn().isAfter(today))
			.max(Comparator.comparing(RecordedSession::treatedOn).thenComparing(RecordedSession::number));
		return last.map(RecordedSession::id).orElse(null);
	}

}
