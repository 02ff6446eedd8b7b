package org.seriatim.finding.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.EarlierVersions;
import org.seriatim.access.Recorded;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.finding.FindingCourse;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.SeriousnessCriterion;
import org.seriatim.finding.domain.EntryRefused.Fault;
import org.seriatim.finding.domain.EntryRefused.Rule;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Reports adverse findings, corrects what is known of them, closes and reopens them. */
@Service
@Transactional
public class KeepFindings {

	private final Findings findings;

	private final TreatmentHistory treatment;

	private final TrackedScars scars;

	private final PatientDirectory patients;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final StaffDirectory members;

	private final EarlierVersions earlierVersions;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	KeepFindings(Findings findings, TreatmentHistory treatment, TrackedScars scars, PatientDirectory patients,
			AuditLog audit, CurrentStaff staff, StaffDirectory members, EarlierVersions earlierVersions, Clock clock,
			ApplicationEventPublisher events) {
		this.findings = findings;
		this.treatment = treatment;
		this.scars = scars;
		this.patients = patients;
		this.audit = audit;
		this.staff = staff;
		this.members = members;
		this.earlierVersions = earlierVersions;
		this.clock = clock;
		this.events = events;
	}

	@Transactional(readOnly = true)
	public Optional<Finding> byId(FindingId id) {
		return this.findings.findById(id);
	}

	/**
	 * @throws EntryRefused if the details break a rule
	 */
	public FindingId report(PatientId patient, FindingDetails details) {
		this.patients.requireExisting(patient);
		require(faults(patient, details, null));
		var finding = new Finding(patient, details, Recorded.first(this.clock.instant(), this.staff));
		save(finding, Action.CREATED);
		return finding.id();
	}

	/**
	 * Replaces what is known by a new version; what says the same as before changes
	 * nothing.
	 * @param shown the version that the form showed
	 * @throws EntryRefused if the details break a rule
	 * @throws StaleVersion if somebody else changed the finding in the meantime
	 */
	public void correct(FindingId id, Long shown, FindingDetails details, String reason) {
		var finding = current(id, shown);
		var faults = faults(finding.patient(), details, finding.details());
		if (finding.isOpenRedFlag() && !details.kind().isRedFlag()) {
			faults.add(Fault.of("kind", Rule.RED_FLAG_TURNED_INTO_ANOTHER_KIND));
		}
		require(faults);
		if (finding.correct(details, correction(reason))) {
			save(finding, Action.CORRECTED);
		}
	}

	/**
	 * Closes a finding, or corrects how it was closed.
	 * @param shown the version that the form showed
	 * @throws EntryRefused if it cannot be closed on that day
	 * @throws StaleVersion if somebody else changed the finding in the meantime
	 */
	public void close(FindingId id, Long shown, LocalDate on, String reason) {
		var finding = current(id, shown);
		var today = LocalDate.now(this.clock);
		if (on.isAfter(today)) {
			throw new EntryRefused(List.of(Fault.of("closedOn", Rule.IN_THE_FUTURE, today)));
		}
		if (on.isBefore(finding.firstNotedOn())) {
			throw new EntryRefused(List.of(Fault.of("closedOn", Rule.BEFORE_FIRST_NOTED, finding.firstNotedOn())));
		}
		finding.close(on, acting(), reason, correction(reason));
		save(finding, Action.DECIDED);
	}

	/**
	 * Takes a closing back: the finding came back, or was closed by mistake.
	 * @param shown the version that the form showed
	 * @throws StaleVersion if somebody else changed the finding in the meantime
	 */
	public void reopen(FindingId id, Long shown, String reason) {
		var finding = current(id, shown);
		if (!finding.isOpen()) {
			finding.reopen(correction(reason));
			save(finding, Action.DECIDED);
		}
	}

	/**
	 * Records whether the treatment caused it, corrects that, or takes it back.
	 * @param shown the version that the form showed
	 * @param assessment {@code null} while it is pending
	 * @param reason why it is corrected; none for the first assessment
	 * @throws EntryRefused if it cannot have been assessed like that
	 * @throws StaleVersion if somebody else changed the finding in the meantime
	 */
	public void attribute(FindingId id, Long shown, @Nullable CausalityAssessment assessment, @Nullable String reason) {
		var finding = current(id, shown);
		var faults = new ArrayList<Fault>();
		if (assessment != null) {
			var today = LocalDate.now(this.clock);
			if (assessment.assessedOn().isAfter(today)) {
				faults.add(Fault.of("assessedOn", Rule.IN_THE_FUTURE, today));
			}
			else if (assessment.assessedOn().isBefore(finding.firstNotedOn())) {
				faults.add(Fault.of("assessedOn", Rule.BEFORE_FIRST_NOTED, finding.firstNotedOn()));
			}
			var known = finding.causality();
			if (assessors().stream().noneMatch((member) -> member.id().equals(assessment.assessor()))
					&& (known == null || !known.assessor().equals(assessment.assessor()))) {
				faults.add(Fault.of("assessor", Rule.ASSESSOR_UNKNOWN));
			}
		}
		require(faults);
		if (finding.attribute(assessment, correction((reason != null) ? reason : "causality assessed"))) {
			save(finding, Action.DECIDED);
		}
	}

	/**
	 * The day on which a finding came on record: from then on a time for a report runs.
	 */
	public LocalDate knownSince(Finding finding) {
		var first = this.earlierVersions.whole("finding", finding.id().value())
			.map((entry) -> entry.versions().get(entry.versions().size() - 1).recorded().recordedAt())
			.orElse(finding.recorded().recordedAt());
		return LocalDate.ofInstant(first, this.clock.getZone());
	}

	/** Who may judge whether the treatment caused a finding. */
	@Transactional(readOnly = true)
	public List<StaffMember> assessors() {
		return Stream.of(Role.PRACTITIONER, Role.CLINIC_LEAD)
			.flatMap((role) -> this.members.holding(role).stream())
			.distinct()
			.sorted(Comparator.comparing(StaffMember::name))
			.toList();
	}

	/** A practitioner takes notice of a possible emergency; the first time counts. */
	public void acknowledge(FindingId id) {
		var finding = this.findings.findById(id).orElseThrow();
		if (finding.isOpenRedFlag() && finding.acknowledge(acting(), correction("acknowledged"))) {
			save(finding, Action.DECIDED);
		}
	}

	private StaffId acting() {
		return this.staff.id().orElseThrow(() -> new IllegalStateException("nobody is signed in"));
	}

	private Recorded correction(String reason) {
		return Recorded.correction(this.clock.instant(), this.staff, reason);
	}

	private Finding current(FindingId id, Long shown) {
		var finding = this.findings.findById(id).orElseThrow();
		StaleVersion.unlessSame(shown, finding.version(), finding.recorded());
		return finding;
	}

	private List<Fault> faults(PatientId patient, FindingDetails details, @Nullable FindingDetails known) {
		var faults = new ArrayList<Fault>();
		var today = LocalDate.now(this.clock);
		if (details.firstNotedOn().isAfter(today)) {
			faults.add(Fault.of("firstNotedOn", Rule.IN_THE_FUTURE, today));
		}
		if (details.session() != null) {
			this.treatment.session(details.session())
				.filter((session) -> session.patient().equals(patient))
				.ifPresentOrElse((session) -> compare(session, details, faults),
						() -> faults.add(Fault.of("session", Rule.SESSION_OF_ANOTHER_PATIENT)));
		}
		if (details.scar() != null) {
			this.scars.of(patient)
				.stream()
				.filter((scar) -> scar.id().equals(details.scar()))
				.findFirst()
				.ifPresentOrElse((scar) -> {
					if (details.region() != null && details.region() != scar.region()) {
						faults.add(Fault.of("region", Rule.SCAR_OF_ANOTHER_REGION, scar.label(), scar.region()));
					}
				}, () -> faults.add(Fault.of("scar", Rule.SCAR_OF_ANOTHER_PATIENT)));
		}
		if (details.goneOn() != null) {
			if (details.goneOn().isAfter(today)) {
				faults.add(Fault.of("goneOn", Rule.IN_THE_FUTURE, today));
			}
			else if (details.goneOn().isBefore(details.firstNotedOn())) {
				faults.add(Fault.of("goneOn", Rule.BEFORE_FIRST_NOTED, details.firstNotedOn()));
			}
		}
		weigh(details, known, faults);
		compareParticulars(details, faults);
		if (details.kind() == FindingKind.OTHER && details.note() == null) {
			faults.add(Fault.of("note", Rule.OTHER_WITHOUT_WORDS));
		}
		if (details.kind() == FindingKind.GRANULOMA && !Boolean.TRUE.equals(details.histology())) {
			faults.add(Fault.of("histology", Rule.GRANULOMA_WITHOUT_HISTOLOGY));
		}
		return faults;
	}

	private static void compare(RecordedSession session, FindingDetails details, List<Fault> faults) {
		if (details.firstNotedOn().isBefore(session.treatedOn())) {
			faults.add(Fault.of("firstNotedOn", Rule.BEFORE_SESSION, session.treatedOn()));
		}
	}

	/*
	 * A bundle says that a finding is serious without saying why; such a finding may stay
	 * so until somebody knows.
	 */
	private static void weigh(FindingDetails details, @Nullable FindingDetails known, List<Fault> faults) {
		var criteria = details.particulars().criteria();
		for (var contradiction : Seriousness.contradictions(details.grade(), criteria)) {
			faults.add(switch (contradiction) {
				case GRADE_FIVE_WITHOUT_DEATH -> Fault.of("criteria", Rule.GRADE_FIVE_WITHOUT_DEATH);
				case DEATH_OF_ANOTHER_GRADE -> Fault.of("grade", Rule.DEATH_OF_ANOTHER_GRADE);
			});
		}
		if (Boolean.FALSE.equals(details.serious()) && Seriousness.isSerious(criteria)) {
			faults.add(Fault.of("serious", Rule.CRITERION_OF_WHAT_IS_NOT_SERIOUS));
		}
		var wasSoBefore = known != null && Boolean.TRUE.equals(known.serious())
				&& known.particulars().criteria().isEmpty();
		if (Boolean.TRUE.equals(details.serious()) && criteria.isEmpty() && !wasSoBefore
				&& faults.stream().noneMatch((fault) -> fault.field().equals("criteria"))) {
			faults.add(Fault.of("criteria", Rule.SERIOUS_WITHOUT_CRITERION));
		}
		if (details.particulars().course() == FindingCourse.FATAL && !criteria.contains(SeriousnessCriterion.DEATH)) {
			faults.add(Fault.of("course", Rule.FATAL_WITHOUT_DEATH));
		}
	}

	private void compareParticulars(FindingDetails details, List<Fault> faults) {
		var particulars = details.particulars();
		var onset = particulars.onset();
		if (onset != null && onset.last().isBefore(onset.first())) {
			faults.add(Fault.of("onsetLast", Rule.ONSET_IN_WRONG_ORDER, onset.first()));
		}
		else if (onset != null && onset.last().isAfter(details.firstNotedOn())) {
			faults.add(Fault.of(onset.isOneDay() ? "onsetFirst" : "onsetLast", Rule.ONSET_AFTER_FIRST_NOTED,
					details.firstNotedOn()));
		}
		else if (onset != null && details.session() != null) {
			this.treatment.session(details.session())
				.map(RecordedSession::treatedOn)
				.filter(onset.last()::isBefore)
				.ifPresent((day) -> faults
					.add(Fault.of(onset.isOneDay() ? "onsetFirst" : "onsetLast", Rule.BEFORE_SESSION, day)));
		}
		if (particulars.side() != null && details.region() != null
				&& FindingSides.of(details.region()).filter((side) -> side != particulars.side()).isPresent()) {
			faults.add(Fault.of("side", Rule.SIDE_OF_ANOTHER_REGION, details.region()));
		}
		if (particulars.visibility() != null && !details.isMass()) {
			faults.add(Fault.of("visibility", Rule.OF_A_LUMP_ONLY));
		}
		if (particulars.inflammatory() != null && !details.isMass()) {
			faults.add(Fault.of("inflammatory", Rule.OF_A_LUMP_ONLY));
		}
	}

	private static void require(List<Fault> faults) {
		if (!faults.isEmpty()) {
			throw new EntryRefused(faults);
		}
	}

	private void save(Finding finding, Action action) {
		this.findings.saveAndFlush(finding);
		this.audit.record(action, "finding", finding.id().value(), finding.patient().value());
		this.events.publishEvent(new PatientRecordChanged(finding.patient()));
	}

}
