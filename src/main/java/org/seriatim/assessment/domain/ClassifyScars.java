package org.seriatim.assessment.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarStanding;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.assessment.domain.StateRefused.Fault;
import org.seriatim.assessment.domain.StateRefused.Rule;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Says what became of scars that were not simply measured, and corrects it. */
@Service
@Transactional
public class ClassifyScars {

	private final ClassifiedScars states;

	private final ScarAssessments ratings;

	private final TrackedScars tracked;

	private final PatientDirectory patients;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	ClassifyScars(ClassifiedScars states, ScarAssessments ratings, TrackedScars tracked, PatientDirectory patients,
			AuditLog audit, CurrentStaff staff, Clock clock, ApplicationEventPublisher events) {
		this.states = states;
		this.ratings = ratings;
		this.tracked = tracked;
		this.patients = patients;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	@Transactional(readOnly = true)
	public Optional<ClassifiedScar> byId(ScarStateId id) {
		return this.states.findById(id);
	}

	/** All that was ever said of a patient's scars, the latest first. */
	@Transactional(readOnly = true)
	public List<ClassifiedScar> of(PatientId patient) {
		return this.states.findByPatient(patient)
			.stream()
			.sorted(Comparator.comparing((ClassifiedScar state) -> state.day().assessedOn())
				.reversed()
				.thenComparing((state) -> state.id().value()))
			.toList();
	}

	/**
	 * Stores what one assessor says of one day: all of it or, when one state is refused,
	 * nothing.
	 * @throws StateRefused if one of them cannot be so
	 */
	public void of(PatientId patient, AssessmentDay day, Map<ScarId, ScarStateDetails> said) {
		this.patients.requireExisting(patient);
		requireOwn(patient, said.keySet());
		said.values().forEach((details) -> requireOwn(patient, details.into()));
		var faults = new ArrayList<Fault>();
		if (day.assessedOn().isAfter(LocalDate.now(this.clock))) {
			faults.add(new Fault(null, Rule.IN_THE_FUTURE));
		}
		var known = this.states.findByPatientAndDay(patient, day)
			.stream()
			.map(ClassifiedScar::scar)
			.collect(Collectors.toSet());
		said.forEach((scar, details) -> {
			if (known.contains(scar)) {
				faults.add(new Fault(scar, Rule.SAID_ALREADY));
			}
			faults.addAll(faults(patient, scar, day, details));
		});
		require(faults);
		said.forEach((scar, details) -> save(
				new ClassifiedScar(patient, scar, day, details, Recorded.first(this.clock.instant(), this.staff)),
				Action.CREATED));
	}

	/**
	 * Replaces what was said by a new version; what says the same as before changes
	 * nothing.
	 * @param shown the version that the form showed
	 * @throws StateRefused if it cannot be so
	 * @throws StaleVersion if somebody else corrected it in the meantime
	 */
	public void correct(ScarStateId id, Long shown, ScarStateDetails details, String reason) {
		var state = this.states.findById(id).orElseThrow();
		StaleVersion.unlessSame(shown, state.version(), state.recorded());
		requireOwn(state.patient(), details.into());
		require(faults(state.patient(), state.scar(), state.day(), details));
		if (state.correct(details, Recorded.correction(this.clock.instant(), this.staff, reason))) {
			save(state, Action.CORRECTED);
		}
	}

	private List<Fault> faults(PatientId patient, ScarId scar, AssessmentDay day, ScarStateDetails details) {
		var faults = new ArrayList<Fault>();
		var into = details.into();
		var standing = details.standing();
		if (into.contains(scar)) {
			faults.add(new Fault(scar, Rule.INTO_ITSELF));
		}
		else if (standing == ScarStanding.MERGED && into.size() != 1) {
			faults.add(new Fault(scar, Rule.MERGED_WITHOUT_ONE));
		}
		else if (standing == ScarStanding.SPLIT && into.size() < 2) {
			faults.add(new Fault(scar, Rule.SPLIT_WITHOUT_TWO));
		}
		else if (standing != ScarStanding.MERGED && standing != ScarStanding.SPLIT && !into.isEmpty()) {
			faults.add(new Fault(scar, Rule.INTO_WITHOUT_REASON));
		}
		if (standing == ScarStanding.EXCLUDED && details.reason() == null) {
			faults.add(new Fault(scar, Rule.EXCLUDED_WITHOUT_REASON));
		}
		var measured = this.ratings.findByPatientAndDay(patient, day)
			.stream()
			.filter((rating) -> rating.scar().equals(scar) && !rating.measurement().isEmpty())
			.map(ScarAssessment::measurement)
			.toList();
		if (!measured.isEmpty() && (standing == ScarStanding.NOT_ASSESSED || standing == ScarStanding.NOT_FOUND)) {
			faults.add(new Fault(scar, Rule.MEASURED_THAT_DAY));
		}
		if (measured.isEmpty() && standing == ScarStanding.ASSESSED) {
			faults.add(new Fault(scar, Rule.NOT_MEASURED_THAT_DAY));
		}
		if (standing == ScarStanding.RESOLVED && measured.stream().anyMatch(ClassifyScars::isDeep)) {
			faults.add(new Fault(scar, Rule.DEEP_THAT_DAY));
		}
		return faults;
	}

	private static boolean isDeep(ScarMeasurement measurement) {
		var depthClass = measurement.completed().depthClass();
		return depthClass != null && depthClass != DepthClass.MINIMAL;
	}

	private void requireOwn(PatientId patient, Iterable<ScarId> scars) {
		var own = this.tracked.of(patient).stream().map(TrackedScar::id).collect(Collectors.toSet());
		for (var scar : scars) {
			if (!own.contains(scar)) {
				throw new IllegalArgumentException("scar " + scar + " is not one of the patient's");
			}
		}
	}

	private static void require(List<Fault> faults) {
		if (!faults.isEmpty()) {
			throw new StateRefused(faults);
		}
	}

	private void save(ClassifiedScar state, Action action) {
		try {
			this.states.saveAndFlush(state);
		}
		catch (DataIntegrityViolationException ex) {
			// the same assessor in two windows at the same moment
			if (String.valueOf(ex.getMessage()).contains("assessed_on")) {
				throw new StateRefused(List.of(new Fault(state.scar(), Rule.SAID_ALREADY)));
			}
			throw ex;
		}
		this.audit.record(action, "scar_state", state.id().value(), state.patient().value());
		this.events.publishEvent(new PatientRecordChanged(state.patient()));
	}

}
