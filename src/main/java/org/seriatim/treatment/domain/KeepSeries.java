package org.seriatim.treatment.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.seriatim.treatment.Protocols;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Opens a patient's series, changes its plan and ends it. By hand a patient gets one open
 * series at a time, since advice and the next session belong to one goal; a bundle may
 * bring others, and keeps what the clinic had.
 */
@Service
@Transactional
public class KeepSeries {

	private final AllSeries allSeries;

	private final TreatmentHistory history;

	private final Protocols protocols;

	private final PatientDirectory patients;

	private final PatientLock lock;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	KeepSeries(AllSeries allSeries, TreatmentHistory history, Protocols protocols, PatientDirectory patients,
			PatientLock lock, AuditLog audit, CurrentStaff staff, Clock clock, ApplicationEventPublisher events) {
		this.allSeries = allSeries;
		this.history = history;
		this.protocols = protocols;
		this.patients = patients;
		this.lock = lock;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	@Transactional(readOnly = true)
	public Optional<Series> byId(SeriesId id) {
		return this.allSeries.findById(id);
	}

	/** The patient's open series, if there is one. */
	@Transactional(readOnly = true)
	public Optional<SeriesSummary> openSeriesOf(PatientId patient) {
		return this.history.seriesOf(patient).stream().filter(SeriesSummary::isOpen).findFirst();
	}

	/**
	 * Opens a series that the newest protocol version governs.
	 * @throws AnotherSeriesIsOpen if the patient has one
	 */
	public SeriesId open(PatientId patient, SeriesPlan plan) {
		this.patients.requireExisting(patient);
		this.lock.hold(patient);
		requireNoOther(patient);
		var number = this.history.seriesOf(patient).stream().mapToInt(SeriesSummary::number).max().orElse(0) + 1;
		var series = new Series(patient, number, plan, this.protocols.current().number(),
				Recorded.first(this.clock.instant(), this.staff));
		save(series, Action.CREATED);
		return series.id();
	}

	/**
	 * Replaces the plan by a new version; what says the same as before changes nothing.
	 * @param shown the version that the form showed
	 * @throws StaleVersion if somebody else changed the series in the meantime
	 */
	public void replan(SeriesId id, Long shown, SeriesPlan plan, String reason) {
		var series = current(id, shown);
		if (series.replan(plan, Recorded.correction(this.clock.instant(), this.staff, reason))) {
			save(series, Action.CORRECTED);
		}
	}

	/**
	 * Ends the series, or corrects how it ended.
	 * @param shown the version that the form showed
	 * @throws SeriesEndRefused if it cannot end on that day
	 * @throws StaleVersion if somebody else changed the series in the meantime
	 */
	public void end(SeriesId id, Long shown, SeriesEnd end) {
		var series = current(id, shown);
		var today = LocalDate.now(this.clock);
		if (end.on().isAfter(today)) {
			throw new SeriesEndRefused(SeriesEndRefused.Rule.IN_THE_FUTURE, today);
		}
		lastSessionOf(series).filter((last) -> last.isAfter(end.on())).ifPresent((last) -> {
			throw new SeriesEndRefused(SeriesEndRefused.Rule.BEFORE_LAST_SESSION, last);
		});
		series.end(end, Recorded.correction(this.clock.instant(), this.staff, end.reason()));
		save(series, Action.CORRECTED);
	}

	/**
	 * Takes the end of a series back.
	 * @param shown the version that the form showed
	 * @throws AnotherSeriesIsOpen if the patient has begun another one
	 * @throws StaleVersion if somebody else changed the series in the meantime
	 */
	public void reopen(SeriesId id, Long shown, String reason) {
		var series = current(id, shown);
		this.lock.hold(series.patient());
		requireNoOther(series.patient());
		series.reopen(Recorded.correction(this.clock.instant(), this.staff, reason));
		save(series, Action.CORRECTED);
	}

	private Series current(SeriesId id, Long shown) {
		var series = this.allSeries.findById(id).orElseThrow();
		StaleVersion.unlessSame(shown, series.version(), series.recorded());
		return series;
	}

	private void requireNoOther(PatientId patient) {
		openSeriesOf(patient).ifPresent((open) -> {
			throw new AnotherSeriesIsOpen(open.id());
		});
	}

	private Optional<LocalDate> lastSessionOf(Series series) {
		List<RecordedSession> sessions = this.history.sessionsOf(series.patient());
		return sessions.stream()
			.filter((session) -> session.series().equals(series.id()))
			.map(RecordedSession::treatedOn)
			.max(LocalDate::compareTo);
	}

	private void save(Series series, Action action) {
		this.allSeries.saveAndFlush(series);
		this.audit.record(action, "series", series.id().value(), series.patient().value());
		this.events.publishEvent(new PatientRecordChanged(series.patient()));
	}

}
