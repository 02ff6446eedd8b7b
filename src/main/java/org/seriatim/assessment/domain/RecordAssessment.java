package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Predicate;
import java.util.stream.Collectors;

import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarType;
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

/**
 * Enters and corrects what one assessor found on one day: all of it or, when one entry is
 * refused, nothing.
 */
@Service
@Transactional
public class RecordAssessment {

	private final ScarAssessments scars;

	private final PoreAssessments pores;

	private final GlobalAssessments scales;

	private final TrackedScars tracked;

	private final PatientDirectory patients;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	RecordAssessment(ScarAssessments scars, PoreAssessments pores, GlobalAssessments scales, TrackedScars tracked,
			PatientDirectory patients, AuditLog audit, CurrentStaff staff, Clock clock,
			ApplicationEventPublisher events) {
		this.scars = scars;
		this.pores = pores;
		this.scales = scales;
		this.tracked = tracked;
		this.patients = patients;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	/**
	 * What the assessor has entered of the day.
	 * @param repeat whether the blinded second ratings are asked for
	 */
	@Transactional(readOnly = true)
	public Optional<EnteredVisit> entered(PatientId patient, AssessmentDay day, boolean repeat) {
		var visit = recorded(patient, day, repeat);
		return visit.isEmpty() ? Optional.empty() : Optional.of(visit.entered());
	}

	/**
	 * Stores what the entry says of scars, pores and scales.
	 * @param repeat whether these are blinded second ratings
	 * @throws AlreadyAssessed if the assessor has entered some of it for that day
	 * @throws NoFirstRating if a second rating has no first one
	 */
	public void of(PatientId patient, AssessmentDay day, boolean repeat, VisitEntry entry) {
		of(patient, day, repeat, repeat, entry);
	}

	/**
	 * The same of ratings that were given without sight of any earlier one: the
	 * assessor's own second ratings, or first ratings beside those of another assessor.
	 * @param repeat whether they are the assessor's second ratings
	 * @throws AlreadyAssessed if the assessor has entered some of it for that day
	 * @throws NoFirstRating if a second rating has no first one
	 */
	public void blinded(PatientId patient, AssessmentDay day, boolean repeat, VisitEntry entry) {
		of(patient, day, repeat, true, entry);
	}

	private void of(PatientId patient, AssessmentDay day, boolean repeat, boolean blinded, VisitEntry entry) {
		this.patients.requireExisting(patient);
		if (repeat) {
			requireFirstRatings(entry, this.scars.findByPatientAndDay(patient, day));
		}
		requireNew(entry, recorded(patient, day, repeat));
		var added = new Changes();
		add(added, patient, day, repeat, entry);
		if (blinded) {
			added.scars.forEach(ScarAssessment::blinded);
		}
		save(patient, added, new Changes());
	}

	/**
	 * Replaces what the assessor had entered of a day. An entry that says the same as
	 * before stays as it is, one that is new is added, and what the form did not show is
	 * left alone. When first ratings move to another day, their blinded repeats move with
	 * them.
	 * @param shown the version that the form showed
	 * @param assessedOn the day on which it was really assessed
	 * @throws AlreadyAssessed if the assessor has entries on the day to which it is moved
	 * @throws NoFirstRating if a second rating has no first one
	 * @throws StaleVersion if somebody else corrected it in the meantime
	 */
	public void correct(PatientId patient, AssessmentDay day, boolean repeat, Long shown, LocalDate assessedOn,
			VisitEntry entry, String reason) {
		var visit = recorded(patient, day, repeat);
		StaleVersion.unlessSame(shown, visit.version(), visit.lastRecorded());
		var newDay = new AssessmentDay(assessedOn, day.assessor());
		if (!newDay.equals(day)) {
			requireNothingOn(patient, newDay);
		}
		if (repeat) {
			requireFirstRatings(entry, this.scars.findByPatientAndDay(patient, newDay));
		}
		var corrected = new Changes();
		correctKnown(corrected, visit, patient, assessedOn, entry, reason);
		if (!repeat && !newDay.equals(day)) {
			var moved = correction(reason);
			recorded(patient, day, true).scars()
				.stream()
				.filter((rating) -> rating.correct(assessedOn, rating.measurement(), moved))
				.forEach(corrected.scars::add);
		}
		var added = new Changes();
		add(added, patient, newDay, repeat, without(entry, visit));
		save(patient, added, corrected);
	}

	private RecordedVisit recorded(PatientId patient, AssessmentDay day, boolean repeat) {
		var ratings = this.scars.findByPatientAndDay(patient, day)
			.stream()
			.filter((rating) -> rating.isRepeat() == repeat)
			.toList();
		return new RecordedVisit(ratings, repeat ? List.of() : this.pores.findByPatientAndDay(patient, day),
				repeat ? List.of() : this.scales.findByPatientAndDay(patient, day));
	}

	private static void requireFirstRatings(VisitEntry entry, List<ScarAssessment> ofTheDay) {
		var first = ofTheDay.stream()
			.filter((rating) -> !rating.isRepeat() && !rating.measurement().isEmpty())
			.map(ScarAssessment::scar)
			.collect(Collectors.toSet());
		var without = entry.scars()
			.entrySet()
			.stream()
			.filter((rating) -> !rating.getValue().isEmpty() && !first.contains(rating.getKey()))
			.map(Map.Entry::getKey)
			.collect(Collectors.toSet());
		if (!without.isEmpty()) {
			throw new NoFirstRating(without);
		}
	}

	private static void requireNew(VisitEntry entry, RecordedVisit known) {
		var twice = new HashSet<Object>();
		known.scars()
			.stream()
			.map(ScarAssessment::scar)
			.filter((scar) -> !entry.scars().getOrDefault(scar, ScarMeasurement.NOTHING).isEmpty())
			.forEach(twice::add);
		known.pores()
			.stream()
			.map(PoreAssessment::region)
			.filter((region) -> !entry.pores().getOrDefault(region, PoreFinding.NOTHING).isEmpty())
			.forEach(twice::add);
		entry.scales().keySet().stream().filter(known::has).forEach(twice::add);
		if (!twice.isEmpty()) {
			throw new AlreadyAssessed(twice);
		}
	}

	/*
	 * To merge two entries of one day somebody would have to choose between them, value
	 * by value.
	 */
	private void requireNothingOn(PatientId patient, AssessmentDay day) {
		if (!recorded(patient, day, false).isEmpty() || !recorded(patient, day, true).isEmpty()) {
			throw new AlreadyAssessed(Set.of());
		}
	}

	private void add(Changes added, PatientId patient, AssessmentDay day, boolean repeat, VisitEntry entry) {
		var types = types(patient);
		var first = Recorded.first(this.clock.instant(), this.staff);
		entry.scars().forEach((scar, measurement) -> {
			if (!measurement.isEmpty()) {
				added.scars
					.add(new ScarAssessment(patient, scar, day, repeat, possible(types, scar, measurement), first));
			}
		});
		entry.pores().forEach((region, finding) -> {
			if (!finding.isEmpty()) {
				added.pores.add(new PoreAssessment(patient, region, day, finding, first));
			}
		});
		entry.scales()
			.forEach((what, value) -> added.scales
				.add(new GlobalAssessment(patient, what, day, admitted(what, value), first)));
	}

	private void correctKnown(Changes corrected, RecordedVisit visit, PatientId patient, LocalDate assessedOn,
			VisitEntry entry, String reason) {
		var types = types(patient);
		var correction = correction(reason);
		for (ScarAssessment known : visit.scars()) {
			var measurement = entry.scars().get(known.scar());
			if (known.correct(assessedOn,
					(measurement != null) ? possible(types, known.scar(), measurement) : known.measurement(),
					correction)) {
				corrected.scars.add(known);
			}
		}
		for (PoreAssessment known : visit.pores()) {
			if (known.correct(assessedOn, entry.pores().getOrDefault(known.region(), known.finding()), correction)) {
				corrected.pores.add(known);
			}
		}
		for (GlobalAssessment known : visit.scales()) {
			var value = entry.scales()
				.entrySet()
				.stream()
				.filter((scale) -> known.isOf(scale.getKey()))
				.map((scale) -> admitted(scale.getKey(), scale.getValue()))
				.findFirst();
			if (known.correct(assessedOn, value.orElse(known.value()), correction)) {
				corrected.scales.add(known);
			}
		}
	}

	private Recorded correction(String reason) {
		return Recorded.correction(this.clock.instant(), this.staff, reason);
	}

	private static VisitEntry without(VisitEntry entry, RecordedVisit known) {
		var scars = known.scars().stream().map(ScarAssessment::scar).collect(Collectors.toSet());
		var regions = known.pores().stream().map(PoreAssessment::region).collect(Collectors.toSet());
		return new VisitEntry(only(entry.scars(), (scar) -> !scars.contains(scar)),
				only(entry.pores(), (region) -> !regions.contains(region)),
				only(entry.scales(), (what) -> !known.has(what)));
	}

	private static <K, V> Map<K, V> only(Map<K, V> entries, Predicate<K> wanted) {
		return entries.entrySet()
			.stream()
			.filter((entry) -> wanted.test(entry.getKey()))
			.collect(Collectors.toMap(Map.Entry::getKey, Map.Entry::getValue));
	}

	private Map<ScarId, ScarType> types(PatientId patient) {
		return this.tracked.of(patient).stream().collect(Collectors.toMap(TrackedScar::id, TrackedScar::type));
	}

	private static ScarMeasurement possible(Map<ScarId, ScarType> types, ScarId scar, ScarMeasurement measurement) {
		var type = types.get(scar);
		if (type == null) {
			throw new IllegalArgumentException("scar " + scar + " is not one of the patient's");
		}
		var completed = measurement.completed();
		if (!completed.contradictions(type).isEmpty()) {
			throw new IllegalArgumentException("the measurement of scar " + scar + " contradicts itself");
		}
		return completed;
	}

	private static BigDecimal admitted(ScaleItem what, BigDecimal value) {
		if (!what.admits(value)) {
			throw new IllegalArgumentException("value of " + what + " is outside the scale, was " + value);
		}
		return value;
	}

	private void save(PatientId patient, Changes added, Changes corrected) {
		try {
			write(corrected);
			write(added);
		}
		catch (DataIntegrityViolationException ex) {
			// the same assessor in two windows at the same moment
			if (String.valueOf(ex.getMessage()).contains("assessed_on")) {
				throw new AlreadyAssessed(Set.of());
			}
			throw ex;
		}
		log(patient, Action.CREATED, added);
		log(patient, Action.CORRECTED, corrected);
		if (!added.isEmpty() || !corrected.isEmpty()) {
			this.events.publishEvent(new PatientRecordChanged(patient));
		}
	}

	private void write(Changes changes) {
		this.scars.saveAllAndFlush(changes.scars);
		this.pores.saveAllAndFlush(changes.pores);
		this.scales.saveAllAndFlush(changes.scales);
	}

	private void log(PatientId patient, Action action, Changes changes) {
		changes.scars.forEach((rating) -> log(patient, action, "scar_assessment", rating.id()));
		changes.pores.forEach((assessment) -> log(patient, action, "pore_assessment", assessment.id()));
		changes.scales.forEach((assessment) -> log(patient, action, "global_assessment", assessment.id()));
	}

	private void log(PatientId patient, Action action, String kind, UUID entry) {
		this.audit.record(action, kind, entry, patient.value());
	}

	/** What one call writes. */
	private static final class Changes {

		private final List<ScarAssessment> scars = new ArrayList<>();

		private final List<PoreAssessment> pores = new ArrayList<>();

		private final List<GlobalAssessment> scales = new ArrayList<>();

		private boolean isEmpty() {
			return this.scars.isEmpty() && this.pores.isEmpty() && this.scales.isEmpty();
		}

	}

}
