package org.seriatim.record.web;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.Period;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.followup.AdviceWording;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.followup.MeasurementError;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientSummary;
import org.seriatim.record.domain.PatientRecords;
import org.seriatim.record.domain.SeriesFigures;
import org.seriatim.record.domain.SeriesRecord;
import org.seriatim.record.domain.SeriesRecords;
import org.seriatim.record.domain.SessionEntry;
import org.seriatim.record.web.BeforePage.ConsentLine;
import org.seriatim.record.web.BeforePage.ConsentPart;
import org.seriatim.record.web.BeforePage.NumbingPart;
import org.seriatim.record.web.BeforePage.Running;
import org.seriatim.record.web.BeforePage.WeightPart;
import org.seriatim.record.web.Doors.Door;
import org.seriatim.record.web.SeriesPage.Fact;
import org.seriatim.screening.BodyWeight;
import org.seriatim.screening.Numbing;
import org.seriatim.screening.NumbingPlan;
import org.seriatim.screening.Screening;
import org.seriatim.screening.ScreeningRecords;
import org.seriatim.screening.TreatmentConsent;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;
import org.seriatim.treatment.LidocaineLimit;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.TopicalAnaesthetic;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Makes the page before a session. */
@Component
class BeforePages {

	private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm", Locale.ENGLISH);

	private final PatientRecords patients;

	private final SeriesRecords series;

	private final TreatmentHistory treatment;

	private final ScreeningRecords screening;

	private final CurrentAdvice advice;

	private final MeasurementError error;

	private final AdviceWording wording;

	private final StaffDirectory staff;

	private final Texts texts;

	private final Doors doors;

	private final Waiting waiting;

	private final Clock clock;

	BeforePages(PatientRecords patients, SeriesRecords series, TreatmentHistory treatment, ScreeningRecords screening,
			CurrentAdvice advice, MeasurementError error, AdviceWording wording, StaffDirectory staff, Texts texts,
			Doors doors, Waiting waiting, Clock clock) {
		this.patients = patients;
		this.series = series;
		this.treatment = treatment;
		this.screening = screening;
		this.advice = advice;
		this.error = error;
		this.wording = wording;
		this.staff = staff;
		this.texts = texts;
		this.doors = doors;
		this.waiting = waiting;
		this.clock = clock;
	}

	/** The page with what its forms are filled from. */
	record Opened(BeforePage page, Screening screening, List<BodyWeight> weights, @Nullable NumbingPlan numbingPlan) {
	}

	/** The day of the last session before today, by which the screening is looked at. */
	@Nullable LocalDate lastTreatedOn(PatientId patient) {
		return RecordedSession.lastBefore(this.treatment.sessionsOf(patient), today());
	}

	/** The page, whose opening is in the audit log. */
	@Transactional
	Opened open(PatientId patient) {
		var open = this.treatment.seriesOf(patient).stream().filter(SeriesSummary::isOpen).findFirst();
		var record = open.flatMap((one) -> this.series.open(one.id())).orElse(null);
		var weights = this.screening.weightsOf(patient);
		var numbingPlan = this.screening.numbingPlanOf(patient).orElse(null);
		var sessions = this.treatment.sessionsOf(patient);
		var screening = this.screening.of(patient, today(), RecordedSession.lastBefore(sessions, today()));
		var page = (record != null) ? ofSeries(record, screening, weights, numbingPlan, sessions)
				: withoutSeries(patient, screening, weights, numbingPlan, sessions);
		return new Opened(page, screening, weights, numbingPlan);
	}

	private BeforePage ofSeries(SeriesRecord record, Screening screening, List<BodyWeight> weights,
			@Nullable NumbingPlan numbingPlan, List<RecordedSession> sessions) {
		var figures = SeriesFigures.of(record, this.error.current().orElse(null));
		var address = "/series/" + record.series().id();
		var standing = this.advice.of(record.series().id()).orElse(null);
		var card = (standing != null) ? AdviceCard
			.of(standing, new AdviceCard.Surroundings(today(), this.clock.getZone(),
					Optional.ofNullable(standing.latestDecision()).map((one) -> one.decidedBy().name()).orElse(null),
					false, record.upcoming()), this.wording, this.texts)
				: null;
		var start = this.doors.ifOpen(address + "/sessions/new");
		return new BeforePage(record.patient().id().toString(), record.patient().displayName(),
				this.texts.say("record.before.eyebrow.series", Written.weekday(today()), record.series().number()),
				facts(record.patient()), Alerts.of(record, this.waiting, this.texts).under(address), address,
				SinceLastSession.of(record, figures, today(), this.texts).orElse(null), card,
				record.lastSession()
					.or(() -> last(record.patientsSessions()))
					.map((session) -> LastTime.of(session, this.texts))
					.orElse(null),
				ScreeningPart.of(screening, this::name, this.clock.getZone(), this.texts),
				consent(record.patient().id()), weight(record.patient(), weights, sessions),
				numbing(record.patient().id(), numbingPlan, record), screening.stopping().isEmpty() ? start : null,
				licensed(record.patient().id()), writes(record.patient().id()));
	}

	private static Optional<SessionEntry> last(List<SessionEntry> sessions) {
		return sessions.stream().max(Comparator.comparingInt(SessionEntry::number));
	}

	private BeforePage withoutSeries(PatientId id, Screening screening, List<BodyWeight> weights,
			@Nullable NumbingPlan numbingPlan, List<RecordedSession> sessions) {
		var record = this.patients.open(id, true);
		return new BeforePage(id.toString(), record.patient().displayName(),
				this.texts.say("record.before.eyebrow", Written.weekday(today())), facts(record.patient()),
				Alerts.ofHolds(record.findings(), record.redFlags(), this.waiting, this.texts).under("/patients/" + id),
				null, null, null, null, ScreeningPart.of(screening, this::name, this.clock.getZone(), this.texts),
				consent(id), weight(record.patient(), weights, sessions), numbing(id, numbingPlan, null), null,
				licensed(id), writes(id));
	}

	private boolean licensed(PatientId patient) {
		return this.doors.maySend("/patients/" + patient + "/before/decisions");
	}

	private boolean writes(PatientId patient) {
		return this.doors.maySend("/patients/" + patient + "/before/answers");
	}

	private List<Fact> facts(PatientSummary patient) {
		return List
			.of(new Fact(this.texts.say("record.fact.record-number"), patient.recordNumber(), null),
					new Fact(this.texts.say("record.fact.born"), Texts.day(patient.birthDate()),
							(patient.birthDate() != null) ? this.texts.say("record.age",
									Period.between(patient.birthDate(), today()).getYears()) : null),
					new Fact(this.texts.say("record.fact.phototype"),
							(patient.phototype() != null) ? this.texts.word("phototype", patient.phototype().toString())
									: Texts.NONE,
							null),
					new Fact(this.texts.say("record.fact.skin-thickness"),
							this.texts.word("skin-thickness", patient.skinThickness()), null));
	}

	private ConsentPart consent(PatientId patient) {
		var all = this.screening.consentsOf(patient);
		var inForce = all.stream().filter((consent) -> consent.isInForceOn(today())).toList();
		return new ConsentPart(
				inForce.isEmpty() ? null
						: this.texts.say("record.before.consent.given", Written.day(inForce.get(0).givenOn()),
								inForce.get(0).documentReference()),
				all.stream().map(this::line).toList(),
				inForce.stream()
					.map((consent) -> new Choice(consent.id() + ":" + consent.version(),
							this.texts.say("record.before.consent.one", Written.day(consent.givenOn()),
									consent.documentReference())))
					.toList());
	}

	private ConsentLine line(TreatmentConsent consent) {
		var recorded = consent.recorded();
		var by = this.texts.say("record.before.recorded", name(recorded.recordedBy()),
				Written.time(recorded.recordedAt(), this.clock.getZone()));
		return new ConsentLine("/history/treatment_consent/" + consent.id(), Written.day(consent.givenOn()),
				consent.documentReference(), by,
				(consent.withdrawnOn() != null) ? this.texts.say("record.before.consent.withdrawn",
						Written.day(consent.withdrawnOn()), Texts.text(recorded.correctionReason())) : null);
	}

	private WeightPart weight(PatientSummary patient, List<BodyWeight> weights, List<RecordedSession> sessions) {
		var latest = Stream
			.concat(weights.stream().map((taken) -> Map.entry(taken.weighedOn(), taken.weightKg())),
					sessions.stream()
						.filter((session) -> session.weightKg() != null)
						.sorted(Comparator.comparing(RecordedSession::number).reversed())
						.map((session) -> Map.entry(session.treatedOn(), Objects.requireNonNull(session.weightKg()))))
			.reduce((one, other) -> other.getKey().isAfter(one.getKey()) ? other : one)
			.orElse(null);
		var age = (latest != null) ? ChronoUnit.DAYS.between(latest.getKey(), today()) : 0;
		var years = (patient.birthDate() != null) ? Period.between(patient.birthDate(), today()).getYears() : null;
		var limit = LidocaineLimit.of(LidocaineLimit.Profile.US_LABEL, (latest != null) ? latest.getValue() : null, age,
				years, false);
		return new WeightPart((latest != null) ? latest.getValue().toPlainString() : null,
				(latest != null) ? this.texts.say("record.before.weight.basis", Written.day(latest.getKey()), age)
						: null,
				age > LidocaineLimit.WEIGHT_HOLDS_DAYS, limit(limit),
				weights.stream().anyMatch((taken) -> taken.weighedOn().equals(today())),
				weights.stream()
					.map((taken) -> new Door(this.texts.say("record.before.weight.one",
							taken.weightKg().toPlainString(), Written.day(taken.weighedOn())),
							"/history/body_weight/" + taken.id()))
					.toList());
	}

	private String limit(LidocaineLimit limit) {
		if (limit instanceof LidocaineLimit.Known known) {
			return this.texts.say("record.before.limit", Written.number(known.limitMg(), 1));
		}
		var missing = ((LidocaineLimit.Unknown) limit).missing();
		return this.texts.say("treatment.review.limit." + missing.name().toLowerCase(Locale.ROOT).replace('_', '-'),
				LidocaineLimit.WEIGHT_HOLDS_DAYS);
	}

	private NumbingPart numbing(PatientId patient, @Nullable NumbingPlan plan, @Nullable SeriesRecord record) {
		var now = this.clock.instant();
		var times = this.screening.numbingOf(patient, today());
		var running = times.stream().filter(Numbing::isOn).findFirst().orElse(null);
		var minutes = this.screening.numbingMinutes(patient, today()).orElse(null);
		var longest = Math.max((minutes != null) ? minutes : 0, (running != null) ? running.minutes(now) : 0);
		return new NumbingPart((running != null) ? running(running, now) : null,
				times.stream()
					.filter((one) -> !one.isOn())
					.map((one) -> new Door(done(one, now), "/history/numbing/" + one.id()))
					.toList(),
				minutes, new TopicalAnaesthetic(null, null, longest).exceeds(TopicalAnaesthetic.Measure.MINUTES),
				times.stream()
					.map((one) -> new Choice(one.id() + ":" + one.version(),
							one.isOn() ? this.texts.say("record.before.numbing.on", time(one.startedAt()))
									: done(one, now)))
					.toList(),
				(plan != null && record != null) ? arrivals(plan, record) : List.of(),
				(plan != null) ? "/history/numbing_plan/" + plan.id() : null);
	}

	private Running running(Numbing numbing, Instant now) {
		return new Running(numbing.id() + ":" + numbing.version(),
				LocalDate.ofInstant(numbing.startedAt(), this.clock.getZone()).equals(today())
						? time(numbing.startedAt()) : Written.time(numbing.startedAt(), this.clock.getZone()),
				numbing.minutes(now), Duration.between(numbing.startedAt(), now).toSeconds(),
				"/history/numbing/" + numbing.id());
	}

	private String done(Numbing numbing, Instant now) {
		return this.texts.say("record.before.numbing.done", time(numbing.startedAt()),
				time(Objects.requireNonNull(numbing.stoppedAt())), numbing.minutes(now));
	}

	private String time(Instant time) {
		return TIME.format(time.atZone(this.clock.getZone()));
	}

	private List<String> arrivals(NumbingPlan plan, SeriesRecord record) {
		var arrivals = new ArrayList<String>();
		for (var booked : record.upcoming()) {
			if (booked.purpose() == AppointmentPurpose.TREATMENT) {
				arrivals
					.add(this.texts.say("record.before.arrival", Written.time(booked.startsAt(), this.clock.getZone()),
							time(booked.startsAt().minus(Duration.ofMinutes(plan.minutes()))), plan.minutes()));
			}
		}
		return arrivals;
	}

	private String name(@Nullable StaffId id) {
		return (id != null) ? this.staff.byId(id).map(StaffMember::name).orElse(Texts.NONE) : Texts.NONE;
	}

	private LocalDate today() {
		return LocalDate.now(this.clock);
	}

}
