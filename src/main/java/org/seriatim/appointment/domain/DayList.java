package org.seriatim.appointment.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.AppointmentId;
import org.seriatim.appointment.domain.DayItem.Detail;
import org.seriatim.finding.FindingKind;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Everything that has to be done about patients today, read from the records each time:
 * there is no copy that could fall behind. What was done leaves the list because the
 * records say so.
 */
@Service
@Transactional(readOnly = true)
public class DayList {

	/** So many attempts without an answer, and a practitioner decides what to do. */
	static final int ATTEMPTS = 3;

	/** No closure is longer. */
	private static final int LONGEST_CLOSURE = 400;

	/**
	 * The attempts since the last answer, for each session after which a patient is to be
	 * asked and was not reached. An answer is a contact that was not in vain, a look at a
	 * lump of the session, or an assessment since. Asked session by session, since almost
	 * all that is on record is of earlier ones; {@code offset 0} keeps that order.
	 */
	private static final String IN_VAIN = """
			select session_id, attempts, last_attempt, recorded_at
			from (
				select session_id, patient_id from advice
				where replaced_at is null and next_contact_day is not null
					and exists (select from contact
						where session_id = advice.session_id and outcome = 'no_answer' offset 0)
					and (select outcome from contact where session_id = advice.session_id
						order by contacted_on desc, outcome = 'no_answer' limit 1) = 'no_answer'
				offset 0) silent
				cross join lateral (select treated_on from session where id = silent.session_id) treated
				cross join lateral (
					select greatest(
						(select max(contacted_on) from contact
							where session_id = silent.session_id and outcome <> 'no_answer'),
						(select max(observed_on) from finding f join finding_observation o on o.finding_id = f.id
							where f.session_id = silent.session_id and f.kind = 'lump'),
						(select max(assessed_on) from scar_assessment
							where patient_id = silent.patient_id and assessed_on > treated_on),
						(select max(assessed_on) from pore_assessment
							where patient_id = silent.patient_id and assessed_on > treated_on),
						(select max(assessed_on) from global_assessment
							where patient_id = silent.patient_id and assessed_on > treated_on)) as answered_on
					offset 0) answered
				cross join lateral (
					select count(distinct contacted_on) as attempts, max(contacted_on) as last_attempt,
						max(recorded_at) as recorded_at
					from contact
					where session_id = silent.session_id and outcome = 'no_answer'
						and contacted_on > coalesce(answered_on, '-infinity')) tries
			where attempts > 0""";

	/** A record of nobody is no patient. */
	private static final String SOMEBODY = "(p.family_name is not null or p.record_number !~ '^E-[0-9A-F]{12}$')";

	private final JdbcClient database;

	private final Diary diary;

	private final Clock clock;

	DayList(JdbcClient database, Diary diary, Clock clock) {
		this.database = database;
		this.diary = diary;
		this.clock = clock;
	}

	/** What has to be done for the patients of one practitioner. */
	public List<DayItem> today(StaffId practitioner) {
		Set<SessionId> theirs = new HashSet<>(this.database.sql("""
				select session.id from advice join session on session.id = session_id
				where replaced_at is null and practitioner_id = :practitioner""")
			.param("practitioner", practitioner.value())
			.query((row, index) -> new SessionId(row.getObject("id", UUID.class)))
			.list());
		return today().stream()
			.filter((item) -> (item.practitioner() != null) ? practitioner.equals(item.practitioner())
					: theirs.contains(item.session()))
			.toList();
	}

	/** What has to be done, in the order in which to do it. */
	public List<DayItem> today() {
		var now = this.clock.instant();
		var today = LocalDate.ofInstant(now, this.clock.getZone());
		var open = open();
		var held = held();
		Map<PatientId, OpenSeries> byPatient = new HashMap<>();
		open.forEach((series) -> byPatient.put(series.patient(), series));
		Set<PatientId> booked = new HashSet<>();
		var items = new ArrayList<DayItem>();
		items.addAll(unsupported(today, byPatient, held, booked));
		var missed = missed(today, byPatient, held);
		items.addAll(missed);
		Set<PatientId> missedTreatment = new HashSet<>();
		missed.stream()
			.filter((item) -> item.purpose() == AppointmentPurpose.TREATMENT)
			.map(DayItem::patient)
			.forEach(missedTreatment::add);
		var working = new WorkingDays(open, today);
		for (var series : open) {
			contact(series, today, working, items);
			waiting(series, items);
			if (!booked.contains(series.patient()) && !missedTreatment.contains(series.patient())) {
				booking(series, today, items);
			}
		}
		items.addAll(outcomes(today));
		items.sort(DayItem.ORDER);
		return items;
	}

	/** What is on record of an open series, as far as the list looks at it. */
	private record OpenSeries(PatientId patient, SeriesId series, SessionId session, AdviceStatus status, boolean own,
			boolean decided, @Nullable LocalDate first, @Nullable LocalDate target, @Nullable LocalDate last,
			@Nullable LocalDate nextContact, LocalDate since, int attempts, @Nullable LocalDate lastAttempt,
			boolean decidedSinceAttempt) {

		DayItem item(DayKind kind, Detail detail, LocalDate due) {
			return new DayItem(kind, detail, due, this.patient, this.series, this.session, null, this.first,
					this.target, this.last, this.attempts, null, null, null);
		}

	}

	/** Attempts without an answer. */
	private record Attempts(int days, LocalDate last, Instant recordedAt) {
	}

	private List<OpenSeries> open() {
		Map<SessionId, Attempts> inVain = new HashMap<>();
		this.database.sql(IN_VAIN).query((row) -> {
			inVain.put(session(row), new Attempts(row.getInt("attempts"),
					Objects.requireNonNull(day(row, "last_attempt")), moment(row, "recorded_at")));
		});
		return this.database.sql("select * from standing_advice")
			.query((row, index) -> openSeries(row, inVain.get(session(row))))
			.list();
	}

	private OpenSeries openSeries(ResultSet row, @Nullable Attempts inVain) throws SQLException {
		@Nullable OffsetDateTime decided = row.getObject("decided_at", OffsetDateTime.class);
		return new OpenSeries(patient(row), new SeriesId(row.getObject("series_id", UUID.class)), session(row),
				AdviceStatus.valueOf(row.getString("status").toUpperCase(Locale.ROOT)), row.getBoolean("own_window"),
				row.getObject("holding_since") != null, day(row, "first_day"), day(row, "target_day"),
				day(row, "last_day"), day(row, "next_contact_day"),
				LocalDate.ofInstant(moment(row, "computed_at"), this.clock.getZone()),
				(inVain != null) ? inVain.days() : 0, (inVain != null) ? inVain.last() : null,
				inVain != null && decided != null && decided.toInstant().isAfter(inVain.recordedAt()));
	}

	private static SessionId session(ResultSet row) throws SQLException {
		return new SessionId(row.getObject("session_id", UUID.class));
	}

	/** Patients whose findings hold treatment, whether they have had a session or not. */
	private Set<PatientId> held() {
		return new HashSet<>(this.database.sql("""
				select patient_id from finding
				where closed_on is null and (serious or grade >= 3 or kind = any(string_to_array(:holding, ',')))""")
			.param("holding", holdingKinds())
			.query((row, index) -> patient(row))
			.list());
	}

	/**
	 * Treatments booked from today on that the window does not hold, or nothing may.
	 * @param booked filled with the patients who have a treatment from today on, also one
	 * that was done today
	 */
	private List<DayItem> unsupported(LocalDate today, Map<PatientId, OpenSeries> open, Set<PatientId> held,
			Set<PatientId> booked) {
		return this.database.sql("""
				select id as appointment_id, patient_id, practitioner_id, starts_at, status, exceptions, window_first,
					window_last
				from appointment
				where purpose = 'treatment' and status in ('booked', 'arrived', 'completed')
					and starts_at >= :startOfToday""").param("startOfToday", startOf(today)).query((row, index) -> {
			var patient = patient(row);
			booked.add(patient);
			return row.getString("status").equals("completed") ? null
					: unsupported(row, open.get(patient), held.contains(patient));
		}).list().stream().filter(Objects::nonNull).toList();
	}

	private @Nullable DayItem unsupported(ResultSet row, @Nullable OpenSeries series, boolean held)
			throws SQLException {
		var starts = moment(row, "starts_at");
		var on = LocalDate.ofInstant(starts, this.clock.getZone());
		var detail = problem(row, on, series, held);
		return (detail == null) ? null
				: item(DayKind.UNSUPPORTED, detail, on, row, series, AppointmentPurpose.TREATMENT, starts);
	}

	private static DayItem item(DayKind kind, Detail detail, LocalDate due, ResultSet row, @Nullable OpenSeries series,
			AppointmentPurpose purpose, Instant starts) throws SQLException {
		return new DayItem(kind, detail, due, patient(row), (series != null) ? series.series() : null,
				(series != null) ? series.session() : null, new StaffId(row.getObject("practitioner_id", UUID.class)),
				(series != null) ? series.first() : null, (series != null) ? series.target() : null,
				(series != null) ? series.last() : null, 0,
				new AppointmentId(row.getObject("appointment_id", UUID.class)), purpose, starts);
	}

	/**
	 * What a practitioner allowed with a reason is no problem, as long as the window is
	 * the one that it was allowed for. A hold is one always.
	 */
	private static @Nullable Detail problem(ResultSet row, LocalDate on, @Nullable OpenSeries series, boolean held)
			throws SQLException {
		if (held || series != null && series.status() == AdviceStatus.HOLD) {
			return Detail.ON_HOLD;
		}
		var first = (series != null) ? series.first() : null;
		var last = (series != null) ? series.last() : null;
		var problem = (first != null && on.isBefore(first)) ? Detail.TOO_EARLY
				: (last != null && on.isAfter(last)) ? Detail.TOO_LATE : null;
		if (problem == null) {
			return null;
		}
		var allowed = Arrays.asList((String[]) row.getArray("exceptions").getArray())
			.contains(
					(problem == Detail.TOO_EARLY) ? Exceptional.BEFORE_WINDOW.word() : Exceptional.AFTER_WINDOW.word());
		return (allowed && Objects.equals(first, day(row, "window_first"))
				&& Objects.equals(last, day(row, "window_last"))) ? null : problem;
	}

	/**
	 * The last appointment of a purpose that nobody came to, unless the patient was seen
	 * or booked since; nothing of a patient whose series have all ended, and no treatment
	 * that is on hold. Each {@code offset 0} keeps the question a look into an index for
	 * the few that are asked about, where the database would else read everything.
	 */
	private List<DayItem> missed(LocalDate today, Map<PatientId, OpenSeries> open, Set<PatientId> held) {
		return this.database.sql("""
				select a.id as appointment_id, a.patient_id, a.practitioner_id, a.starts_at, a.purpose, a.status,
					(select max(treated_on) from session where patient_id = a.patient_id) as treated_on
				from appointment a
				where a.status in ('booked', 'no_show') and (a.status = 'no_show' or a.starts_at < :startOfToday)
					and not exists (select from appointment later
						where later.patient_id = a.patient_id and later.purpose = a.purpose
							and later.starts_at > a.starts_at and later.status <> 'cancelled' offset 0)
					and not exists (select from appointment seen
						where seen.patient_id = a.patient_id and seen.starts_at > a.starts_at
							and seen.status in ('arrived', 'completed') offset 0)
					and (exists (select from series where patient_id = a.patient_id and status = 'open')
						or not exists (select from series where patient_id = a.patient_id))""")
			.param("startOfToday", startOf(today))
			.query((row, index) -> missed(row, open.get(patient(row)), held.contains(patient(row))))
			.list()
			.stream()
			.filter(Objects::nonNull)
			.toList();
	}

	private @Nullable DayItem missed(ResultSet row, @Nullable OpenSeries series, boolean held) throws SQLException {
		var starts = moment(row, "starts_at");
		var on = LocalDate.ofInstant(starts, this.clock.getZone());
		var treatedOn = day(row, "treated_on");
		var purpose = AppointmentPurpose.valueOf(row.getString("purpose").toUpperCase(Locale.ROOT));
		if (treatedOn != null && !treatedOn.isBefore(on) || held && purpose == AppointmentPurpose.TREATMENT) {
			return null;
		}
		return item(DayKind.MISSED, row.getString("status").equals("no_show") ? Detail.DID_NOT_COME : Detail.NOT_NOTED,
				on, row, series, purpose, starts);
	}

	private static void contact(OpenSeries series, LocalDate today, WorkingDays working, List<DayItem> items) {
		if (series.nextContact() == null) {
			return;
		}
		if (series.lastAttempt() == null || series.attempts() >= ATTEMPTS && series.decidedSinceAttempt()) {
			if (!series.nextContact().isAfter(today)) {
				items.add(series.item(DayKind.CONTACT, Detail.PLANNED, series.nextContact()));
			}
		}
		else if (series.attempts() >= ATTEMPTS) {
			items.add(series.item(DayKind.PRACTITIONER, Detail.THREE_ATTEMPTS, series.lastAttempt()));
		}
		else {
			var again = working.after(series.lastAttempt());
			if (!again.isAfter(today)) {
				items.add(series.item(DayKind.CONTACT, Detail.NOT_REACHED, again));
			}
		}
	}

	private static void waiting(OpenSeries series, List<DayItem> items) {
		if (series.status() == AdviceStatus.HOLD) {
			items.add(series.item(DayKind.PRACTITIONER, Detail.ON_HOLD, series.since()));
		}
		else if (series.status() == AdviceStatus.REVIEW_PLAN && !series.decided()) {
			items.add(series.item(DayKind.PRACTITIONER, Detail.REVIEW_PLAN, series.since()));
		}
	}

	private static void booking(OpenSeries series, LocalDate today, List<DayItem> items) {
		if (series.last() == null || series.first() == null || series.status() == AdviceStatus.HOLD) {
			return;
		}
		if (today.isAfter(series.last())) {
			items.add(series.item(DayKind.OVERDUE, Detail.WINDOW_PASSED, series.last()));
		}
		else if (series.status() == AdviceStatus.WINDOW || series.own()) {
			items.add(series.item(DayKind.BOOKING,
					today.isBefore(series.first()) ? Detail.BEFORE_WINDOW : Detail.IN_WINDOW, series.last()));
		}
	}

	/**
	 * Patients whose latest series ended, from the 84th day after its last session on,
	 * until they are booked or were looked at since.
	 */
	private List<DayItem> outcomes(LocalDate today) {
		return this.database
			.sql("""
					select s.patient_id, s.series_id, s.id as session_id, s.practitioner_id, s.treated_on,
						(select max(starts_at) from appointment where patient_id = s.patient_id
							and purpose in ('outcome', 'assessment') and status in ('arrived', 'completed')) as seen_at
					from (select patient_id from series group by patient_id having bool_and(status <> 'open')) ended
						cross join lateral (
							select id, patient_id, series_id, practitioner_id, treated_on from session
							where patient_id = ended.patient_id order by number desc limit 1) s
					where s.treated_on <= :latest
						and not exists (select from scar_assessment
							where patient_id = s.patient_id and assessed_on >= s.treated_on + %1$d offset 0)
						and not exists (select from pore_assessment
							where patient_id = s.patient_id and assessed_on >= s.treated_on + %1$d offset 0)
						and not exists (select from global_assessment
							where patient_id = s.patient_id and assessed_on >= s.treated_on + %1$d offset 0)
						and not exists (select from appointment where patient_id = s.patient_id
							and purpose in ('outcome', 'assessment') and status in ('booked', 'arrived')
							and starts_at >= :startOfToday offset 0)
						and exists (select from patient p where p.id = s.patient_id and %2$s offset 0)"""
				.formatted(OutcomeVisit.DAYS, SOMEBODY))
			.param("latest", today.minusDays(OutcomeVisit.DAYS))
			.param("startOfToday", startOf(today))
			.query((row, index) -> outcome(row))
			.list()
			.stream()
			.filter(Objects::nonNull)
			.toList();
	}

	private @Nullable DayItem outcome(ResultSet row) throws SQLException {
		var due = Objects.requireNonNull(day(row, "treated_on")).plusDays(OutcomeVisit.DAYS);
		var seen = (row.getObject("seen_at") != null)
				? LocalDate.ofInstant(moment(row, "seen_at"), this.clock.getZone()) : null;
		if (seen != null && !seen.isBefore(due)) {
			return null;
		}
		return new DayItem(DayKind.OUTCOME, Detail.AFTER_SERIES, due,
				new PatientId(row.getObject("patient_id", UUID.class)),
				new SeriesId(row.getObject("series_id", UUID.class)),
				new SessionId(row.getObject("session_id", UUID.class)),
				new StaffId(row.getObject("practitioner_id", UUID.class)), null, null, null, 0, null, null, null);
	}

	/**
	 * The days on which the clinic can be expected to call: somebody has working hours
	 * and the clinic is not closed; from Monday to Friday where no hours are on record.
	 */
	private final class WorkingDays {

		private final Openings openings;

		private final Map<LocalDate, LocalDate> known = new HashMap<>();

		WorkingDays(List<OpenSeries> open, LocalDate today) {
			var earliest = open.stream()
				.map(OpenSeries::lastAttempt)
				.filter(Objects::nonNull)
				.min(LocalDate::compareTo)
				.orElse(today);
			this.openings = DayList.this.diary.openings(earliest);
		}

		LocalDate after(LocalDate day) {
			return this.known.computeIfAbsent(day,
					(from) -> from.plusDays(1)
						.datesUntil(from.plusDays(LONGEST_CLOSURE))
						.filter(this::isWorking)
						.findFirst()
						.orElse(from.plusDays(1)));
		}

		private boolean isWorking(LocalDate day) {
			if (this.openings.isClinicClosedOn(day)) {
				return false;
			}
			return this.openings.areKnown() ? this.openings.anybodyWorksOn(day)
					: day.getDayOfWeek() != DayOfWeek.SATURDAY && day.getDayOfWeek() != DayOfWeek.SUNDAY;
		}

	}

	static String holdingKinds() {
		return String.join(",",
				Arrays.stream(FindingKind.values())
					.filter(FindingKind::holdsTreatment)
					.map(FindingKind::word)
					.toList());
	}

	private OffsetDateTime startOf(LocalDate day) {
		return day.atStartOfDay(this.clock.getZone()).toInstant().atOffset(ZoneOffset.UTC);
	}

	private static PatientId patient(ResultSet row) throws SQLException {
		return new PatientId(row.getObject("patient_id", UUID.class));
	}

	private static Instant moment(ResultSet row, String column) throws SQLException {
		return row.getObject(column, OffsetDateTime.class).toInstant();
	}

	private static @Nullable LocalDate day(ResultSet row, String column) throws SQLException {
		return row.getObject(column, LocalDate.class);
	}

}
