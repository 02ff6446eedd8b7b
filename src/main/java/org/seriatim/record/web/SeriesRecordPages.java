package org.seriatim.record.web;

import java.time.Clock;
import java.time.LocalDate;
import java.time.Period;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.followup.AdviceWording;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.followup.MeasurementError;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.outcome.ExpectedGains;
import org.seriatim.patient.PatientSummary;
import org.seriatim.record.domain.SeriesFigures;
import org.seriatim.record.domain.SeriesRecord;
import org.seriatim.record.domain.SeriesRecords;
import org.seriatim.record.domain.SessionEntry;
import org.seriatim.record.web.Doors.Door;
import org.seriatim.record.web.SeriesPage.Fact;
import org.seriatim.record.web.SeriesPage.NoAdvice;
import org.seriatim.shell.Written;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesSummary;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Makes the page of a series, in at most thirteen statements. */
@Component
class SeriesRecordPages {

	/**
	 * Days after the last session from which an outcome can be judged (fractional
	 * radiofrequency meta-analysis, at least 12 weeks).
	 */
	private static final int OUTCOME_AFTER_DAYS = 84;

	private final SeriesRecords records;

	private final CurrentAdvice advice;

	private final MeasurementError error;

	private final ExpectedGains gains;

	private final AdviceWording wording;

	private final Texts texts;

	private final Doors doors;

	private final Waiting waiting;

	private final Clock clock;

	SeriesRecordPages(SeriesRecords records, CurrentAdvice advice, MeasurementError error, ExpectedGains gains,
			AdviceWording wording, Texts texts, Doors doors, Waiting waiting, Clock clock) {
		this.records = records;
		this.advice = advice;
		this.error = error;
		this.gains = gains;
		this.wording = wording;
		this.texts = texts;
		this.doors = doors;
		this.waiting = waiting;
		this.clock = clock;
	}

	/** The page, whose opening is in the audit log; empty if there is no such series. */
	@Transactional
	Optional<SeriesPage> open(SeriesId series) {
		return this.records.open(series).map(this::page);
	}

	private SeriesPage page(SeriesRecord record) {
		var today = LocalDate.now(this.clock);
		var series = record.series();
		var figures = SeriesFigures.of(record, this.error.current().orElse(null));
		var standing = series.isOpen() ? this.advice.of(series.id()).orElse(null) : null;
		var decide = "/series/" + series.id() + "/advice/decision";
		var licensed = this.doors.maySend(decide);
		return new SeriesPage(series.id().toString(), series.patient().toString(), record.patient().displayName(),
				eyebrow(record), series.goal(), facts(record, today), entries(record), siblings(record),
				Alerts.of(record, this.waiting, this.texts),
				(standing != null) ? card(standing, record, today, licensed) : null,
				(standing == null) ? noAdvice(record) : null, licensed,
				GainCard.of(record, this.gains, this.doors, this.texts).orElse(null),
				SinceLastSession.of(record, figures, today, this.texts).orElse(null),
				TimeLineDrawing.of(record, window(standing), today, this.texts).orElse(null),
				ScarTable.of(record, figures, this.doors, this.texts), PoreTable.of(figures, this.texts),
				ScaleTable.of(figures, record.sessions(), this.texts), TreatmentTable.of(record.sessions(), this.texts),
				FindingRow.all(record, this.doors, this.texts), ContactRow.all(record, this.doors, this.texts),
				links(record));
	}

	/* Asked only where there is one, which is rare. */
	private AdviceCard card(StandingAdvice standing, SeriesRecord record, LocalDate today, boolean licensed) {
		var decidedBy = Optional.ofNullable(standing.latestDecision())
			.map((decision) -> decision.decidedBy().name())
			.orElse(null);
		return AdviceCard.of(standing,
				new AdviceCard.Surroundings(today, this.clock.getZone(), decidedBy, licensed, record.upcoming()),
				this.wording, this.texts);
	}

	private static TimeLineDrawing.@Nullable Window window(@Nullable StandingAdvice standing) {
		var first = (standing != null) ? standing.first() : null;
		var last = (standing != null) ? standing.last() : null;
		return (first != null && last != null) ? new TimeLineDrawing.Window(first, last) : null;
	}

	private NoAdvice noAdvice(SeriesRecord record) {
		var series = record.series();
		var last = record.lastSession();
		if (!series.isOpen()) {
			var ended = this.texts.say("record.no-advice.ended", this.texts.word("series-status", series.status()),
					Texts.day(series.endedOn()));
			return new NoAdvice(ended,
					last.map((session) -> this.texts.say("record.no-advice.outcome",
							Written.day(session.treatedOn().plusDays(OUTCOME_AFTER_DAYS)), OUTCOME_AFTER_DAYS))
						.orElse(this.texts.say("record.no-advice.never-treated")));
		}
		return last.isEmpty()
				? new NoAdvice(this.texts.say("record.no-advice.no-session"),
						this.texts.say("record.no-advice.no-session.text"))
				: new NoAdvice(this.texts.say("record.no-advice.not-yet"),
						this.texts.say("record.no-advice.not-yet.text"));
	}

	private String eyebrow(SeriesRecord record) {
		var series = record.series();
		var status = this.texts.word("series-status", series.status());
		var done = record.sessions().size();
		return (series.plannedSessions() != null)
				? this.texts.say("record.series.eyebrow.planned", series.number(), status, done,
						series.plannedSessions())
				: this.texts.say("record.series.eyebrow", series.number(), status, done);
	}

	private List<Fact> facts(SeriesRecord record, LocalDate today) {
		var patient = record.patient();
		var facts = new ArrayList<Fact>();
		facts.add(new Fact(this.texts.say("record.fact.record-number"), patient.recordNumber(), null));
		facts.add(new Fact(this.texts.say("record.fact.born"), Texts.day(patient.birthDate()), age(patient, today)));
		facts.add(new Fact(this.texts.say("record.fact.phototype"), (patient.phototype() != null)
				? this.texts.word("phototype", patient.phototype().toString()) : Texts.NONE, null));
		facts.add(new Fact(this.texts.say("record.fact.skin-thickness"),
				this.texts.word("skin-thickness", patient.skinThickness()), null));
		facts.add(new Fact(this.texts.say("record.fact.sebum"), this.texts.word("sebum", patient.sebum()), null));
		facts.add(new Fact(this.texts.say("record.fact.protocol"),
				this.texts.say("record.protocol", record.series().protocol()), null));
		if (!record.series().isOpen()) {
			facts.add(new Fact(this.texts.say("record.fact.ended"), Texts.day(record.series().endedOn()),
					record.series().reason()));
		}
		return facts;
	}

	private @Nullable String age(PatientSummary patient, LocalDate today) {
		return (patient.birthDate() != null)
				? this.texts.say("record.age", Period.between(patient.birthDate(), today).getYears()) : null;
	}

	private List<Door> entries(SeriesRecord record) {
		var entries = Entries.of(record);
		return this.doors.open(
				new Door(this.texts.say("record.enter.before"), "/patients/" + record.series().patient() + "/before"),
				new Door(this.texts.say("record.enter.session"), entries.newSession()),
				new Door(this.texts.say("record.enter.assessment"), entries.newAssessment()),
				new Door(this.texts.say("record.enter.finding"), entries.newFinding()),
				new Door(this.texts.say("record.enter.contact"), entries.newContact()),
				new Door(this.texts.say("record.enter.emergency"),
						"/patients/" + record.series().patient() + "/emergency"));
	}

	private List<Door> siblings(SeriesRecord record) {
		var others = record.patientsSeries()
			.stream()
			.filter((other) -> !other.id().equals(record.series().id()))
			.map(this::sibling);
		var versions = this.doors
			.open(new Door(this.texts.say("record.series.versions"), "/history/series/" + record.series().id()));
		return Stream.concat(others, versions.stream()).toList();
	}

	private Door sibling(SeriesSummary series) {
		return new Door(this.texts.say("record.series.sibling", series.number(),
				this.texts.word("series-status", series.status())), "/series/" + series.id());
	}

	private SeriesPage.Links links(SeriesRecord record) {
		var entries = Entries.of(record);
		return new SeriesPage.Links(this.doors.ifOpen(entries.newSession()), this.doors.ifOpen(entries.newScar()),
				this.doors.ifOpen(entries.newAssessment()), this.doors.ifOpen(entries.newCount()),
				this.doors.ifOpen(entries.newFinding()), this.doors.ifOpen(entries.newContact()));
	}

	/** The addresses of the entry pages about a series. */
	private record Entries(String newSession, String newScar, String newAssessment, String newCount, String newFinding,
			String newContact) {

		static Entries of(SeriesRecord record) {
			var series = "/series/" + record.series().id();
			var patient = "/patients/" + record.series().patient();
			var session = record.lastSession().map(SessionEntry::id).map(Object::toString).orElse("none");
			return new Entries(series + "/sessions/new", patient + "/scars/new", patient + "/assessments/new",
					patient + "/counts", patient + "/findings/new", "/sessions/" + session + "/contacts/new");
		}

	}

}
