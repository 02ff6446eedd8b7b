package org.seriatim.assessment.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
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
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Enters and corrects the counts by region and type of one day and assessor. */
@Service
@Transactional
public class RecordCounts {

	private final ScarCounts counts;

	private final PatientDirectory patients;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	RecordCounts(ScarCounts counts, PatientDirectory patients, AuditLog audit, CurrentStaff staff, Clock clock,
			ApplicationEventPublisher events) {
		this.counts = counts;
		this.patients = patients;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	/**
	 * What one assessor has counted on one day.
	 *
	 * @param version rises with every count that is added or corrected
	 */
	public record Counted(Map<CountCell, Integer> cells, Long version) {
	}

	@Transactional(readOnly = true)
	public Optional<Counted> counted(PatientId patient, AssessmentDay day) {
		var known = this.counts.findByPatientAndDay(patient, day);
		return known.isEmpty() ? Optional.empty()
				: Optional.of(new Counted(known.stream().collect(Collectors.toMap(ScarCount::cell, ScarCount::count)),
						version(known)));
	}

	/**
	 * Stores the counts of the cells that were counted.
	 * @throws AlreadyAssessed if the assessor has counted some of them on that day
	 */
	public void of(PatientId patient, AssessmentDay day, Map<CountCell, Integer> cells) {
		this.patients.requireExisting(patient);
		var twice = this.counts.findByPatientAndDay(patient, day)
			.stream()
			.map(ScarCount::cell)
			.filter(cells::containsKey)
			.collect(Collectors.toSet());
		if (!twice.isEmpty()) {
			throw new AlreadyAssessed(twice);
		}
		save(patient, added(patient, day, cells), List.of());
	}

	/**
	 * Replaces what the assessor had counted on a day. A count that says the same as
	 * before stays as it is, one that is new is added, none is removed.
	 * @param shown the version that the form showed
	 * @param countedOn the day on which they were really counted
	 * @throws AlreadyAssessed if the assessor has counts on the day to which they are
	 * moved
	 * @throws StaleVersion if somebody else corrected them in the meantime
	 */
	public void correct(PatientId patient, AssessmentDay day, Long shown, LocalDate countedOn,
			Map<CountCell, Integer> cells, String reason) {
		var known = this.counts.findByPatientAndDay(patient, day);
		StaleVersion.unlessSame(shown, version(known), lastRecorded(known));
		var newDay = day.movedTo(countedOn);
		if (!newDay.equals(day) && !this.counts.findByPatientAndDay(patient, newDay).isEmpty()) {
			throw new AlreadyAssessed(Set.of());
		}
		var correction = Recorded.correction(this.clock.instant(), this.staff, reason);
		var corrected = new ArrayList<ScarCount>();
		for (ScarCount count : known) {
			if (count.correct(countedOn, cells.getOrDefault(count.cell(), count.count()), correction)) {
				corrected.add(count);
			}
		}
		var before = known.stream().map(ScarCount::cell).collect(Collectors.toSet());
		var others = cells.entrySet()
			.stream()
			.filter((cell) -> !before.contains(cell.getKey()))
			.collect(Collectors.toMap(Map.Entry::getKey, Map.Entry::getValue));
		save(patient, added(patient, newDay, others), corrected);
	}

	private List<ScarCount> added(PatientId patient, AssessmentDay day, Map<CountCell, Integer> cells) {
		var first = Recorded.first(this.clock.instant(), this.staff);
		return cells.entrySet()
			.stream()
			.map((cell) -> new ScarCount(patient, cell.getKey(), day, cell.getValue(), first))
			.toList();
	}

	/* Counts are added and corrected, never removed, so this rises with every change. */
	private static Long version(List<ScarCount> counts) {
		return counts.stream().mapToLong((count) -> count.version() + 1).sum();
	}

	private static @Nullable Recorded lastRecorded(List<ScarCount> counts) {
		return counts.stream().map(ScarCount::recorded).max(Comparator.comparing(Recorded::recordedAt)).orElse(null);
	}

	private void save(PatientId patient, List<ScarCount> added, List<ScarCount> corrected) {
		try {
			this.counts.saveAllAndFlush(corrected);
			this.counts.saveAllAndFlush(added);
		}
		catch (DataIntegrityViolationException ex) {
			// the same assessor in two windows at the same moment
			if (String.valueOf(ex.getMessage()).contains("assessed_on")) {
				throw new AlreadyAssessed(Set.of());
			}
			throw ex;
		}
		added.forEach((count) -> log(patient, Action.CREATED, count));
		corrected.forEach((count) -> log(patient, Action.CORRECTED, count));
		if (!added.isEmpty() || !corrected.isEmpty()) {
			this.events.publishEvent(new PatientRecordChanged(patient));
		}
	}

	private void log(PatientId patient, Action action, ScarCount count) {
		this.audit.record(action, "scar_count", count.id(), patient.value());
	}

}
