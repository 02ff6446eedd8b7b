package org.seriatim.treatment.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.screening.ScreenedItem;
import org.seriatim.screening.Screening;
import org.seriatim.screening.ScreeningRecords;
import org.seriatim.shell.StaleVersion;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Records a session and corrects what was recorded of one. */
@Service
@Transactional
public class RecordSession {

	private final Sessions sessions;

	private final TreatmentHistory history;

	private final TrackedScars scars;

	private final SessionDrafts drafts;

	private final ScreeningRecords screening;

	private final PatientLock lock;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	RecordSession(Sessions sessions, TreatmentHistory history, TrackedScars scars, SessionDrafts drafts,
			ScreeningRecords screening, PatientLock lock, AuditLog audit, CurrentStaff staff, Clock clock,
			ApplicationEventPublisher events) {
		this.sessions = sessions;
		this.history = history;
		this.scars = scars;
		this.drafts = drafts;
		this.screening = screening;
		this.lock = lock;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	/** The version that a form shows, to be given back to {@link #correct}. */
	@Transactional(readOnly = true)
	public Optional<Long> versionOf(SessionId session) {
		return this.sessions.findById(session).map(Session::version);
	}

	/** The number that a new session of this series' patient gets. */
	@Transactional(readOnly = true)
	public int nextNumber(SeriesId series) {
		return setting(summary(series), null).nextNumber();
	}

	/** Every rule that a new session would break. */
	@Transactional(readOnly = true)
	public List<SessionFault> faultsOfNew(SeriesId series, SessionDetails details) {
		return faultsOfNew(summary(series), details);
	}

	/** Every rule that a correction would break. */
	@Transactional(readOnly = true)
	public List<SessionFault> faultsOfCorrection(SessionId session, SessionDetails details) {
		var recorded = this.history.session(session).orElseThrow();
		return setting(summary(recorded.series()), session).faults(details);
	}

	/**
	 * Records a session of an open series.
	 * @throws SessionRefused if it breaks a rule
	 */
	public SessionId in(SeriesId series, SessionDetails details) {
		var summary = summary(series);
		this.lock.hold(summary.patient());
		requireNoFault(faultsOfNew(summary, details));
		var session = new Session(summary.patient(), series, details, Recorded.first(this.clock.instant(), this.staff));
		this.sessions.save(session);
		written(session, Action.CREATED);
		return session.id();
	}

	/**
	 * Records what a draft was made into, and settles the draft.
	 * @param shown the version of the draft that the form showed
	 * @throws SessionRefused if it breaks a rule
	 * @throws StaleVersion if the draft was changed or settled in the meantime
	 */
	public SessionId fromDraft(DraftId draft, @Nullable Long shown, SessionDetails details) {
		return fromDraft(draft, shown, null, details);
	}

	/**
	 * Records what a draft was made into, and settles the draft.
	 * @param shown the version of the draft that the form showed
	 * @param page the one on which it was typed: what it saved by itself is no change of
	 * somebody else
	 * @throws SessionRefused if it breaks a rule
	 * @throws StaleVersion if the draft was changed or settled in the meantime
	 */
	public SessionId fromDraft(DraftId draft, @Nullable Long shown, @Nullable UUID page, SessionDetails details) {
		var session = in(this.drafts.byId(draft).orElseThrow().series(), details);
		this.drafts.recorded(draft, shown, page, session);
		return session;
	}

	/**
	 * Replaces what was recorded by a new version; what says the same as before changes
	 * nothing.
	 * @param shown the version that the form showed
	 * @throws SessionRefused if it breaks a rule
	 * @throws StaleVersion if somebody else corrected the session in the meantime
	 */
	public void correct(SessionId id, Long shown, SessionDetails details, String reason) {
		var session = this.sessions.findById(id).orElseThrow();
		StaleVersion.unlessSame(shown, session.version(), session.recorded());
		this.lock.hold(session.patient());
		requireNoFault(setting(summary(session.series()), id).faults(details));
		if (session.correct(details, Recorded.correction(this.clock.instant(), this.staff, reason))) {
			written(session, Action.CORRECTED);
		}
	}

	/**
	 * What a new session breaks. One of today is at the chair, so the screening stands in
	 * its way; one of an earlier day comes from paper, and only says that it was not
	 * screened here.
	 */
	private List<SessionFault> faultsOfNew(SeriesSummary series, SessionDetails details) {
		var faults = new ArrayList<>(setting(series, null).faults(details));
		screeningToday(series, details).ifPresent((screening) -> {
			add(faults, SessionRule.SCREENING_NOT_CLEARED, screening.stopping());
			add(faults, SessionRule.CAUTION_NOT_CLEARED, screening.openCautions());
		});
		return faults;
	}

	private static void add(List<SessionFault> faults, SessionRule rule, List<ScreenedItem> items) {
		if (!items.isEmpty()) {
			faults.add(new SessionFault(rule, 0, List.copyOf(items)));
		}
	}

	/** What a session of today uses counts, whatever was planned. */
	private Optional<Screening> screeningToday(SeriesSummary series, SessionDetails details) {
		var day = details.treatedOn();
		if (!day.equals(LocalDate.now(this.clock))) {
			return Optional.empty();
		}
		return Optional.of(this.screening.of(series.patient(), day, lastTreatedBefore(series.patient(), day),
				details.usesRadiofrequency(), details.usesTopicalAnaesthetic()));
	}

	private @Nullable LocalDate lastTreatedBefore(PatientId patient, LocalDate day) {
		return RecordedSession.lastBefore(this.history.sessionsOf(patient), day);
	}

	private SeriesSummary summary(SeriesId series) {
		return this.history.series(series).orElseThrow();
	}

	private SessionSetting setting(SeriesSummary series, @Nullable SessionId session) {
		var ofPatient = this.scars.of(series.patient()).stream().map(TrackedScar::id).collect(Collectors.toSet());
		return new SessionSetting(series, session, this.history.sessionsOf(series.patient()), ofPatient,
				LocalDate.now(this.clock), this.clock.getZone());
	}

	private static void requireNoFault(List<SessionFault> faults) {
		if (!faults.isEmpty()) {
			throw new SessionRefused(faults);
		}
	}

	private void written(Session session, Action action) {
		this.sessions.flush();
		this.audit.record(action, "session", session.id().value(), session.patient().value());
		this.events.publishEvent(new PatientRecordChanged(session.patient()));
	}

}
