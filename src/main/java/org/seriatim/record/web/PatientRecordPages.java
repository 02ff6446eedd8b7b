package org.seriatim.record.web;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.Period;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.followup.AdviceWording;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.patient.LegalHolds;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientSummary;
import org.seriatim.record.domain.AppointmentEntry;
import org.seriatim.record.domain.FindingEntry;
import org.seriatim.record.domain.PatientRecord;
import org.seriatim.record.domain.PatientRecords;
import org.seriatim.record.web.Doors.Door;
import org.seriatim.record.web.PatientPage.AppointmentRow;
import org.seriatim.record.web.PatientPage.FindingLine;
import org.seriatim.record.web.PatientPage.SeriesRow;
import org.seriatim.record.web.SeriesPage.Fact;
import org.seriatim.shell.Written;
import org.springframework.stereotype.Component;

/** Makes the page of a patient for who may see what. */
@Component
class PatientRecordPages {

	private final PatientRecords records;

	private final AdviceWording wording;

	private final LegalHolds holds;

	private final Texts texts;

	private final Doors doors;

	private final Waiting waiting;

	private final Clock clock;

	PatientRecordPages(PatientRecords records, AdviceWording wording, LegalHolds holds, Texts texts, Doors doors,
			Waiting waiting, Clock clock) {
		this.records = records;
		this.holds = holds;
		this.wording = wording;
		this.texts = texts;
		this.doors = doors;
		this.waiting = waiting;
		this.clock = clock;
	}

	/**
	 * The page, whose opening is in the audit log. Who may open its assessments may see
	 * what is in it; who may not, as the front desk, gets nothing of it here either.
	 */
	PatientPage open(PatientId id) {
		var clinical = this.doors.isOpen("/patients/" + id + "/assessments");
		var record = this.records.open(id, clinical);
		var today = LocalDate.now(this.clock);
		return new PatientPage(id.toString(), record.patient().displayName(), record.patient().recordNumber(),
				facts(record.patient(), today, clinical),
				Alerts.ofHolds(record.findings(), record.redFlags(), this.waiting, this.texts),
				!record.redFlags().isEmpty(), entries(record), aboutTheRecord(record),
				record.series().stream().map((course) -> row(course, today, clinical)).toList(),
				this.doors.ifOpen("/patients/" + id + "/series/new"),
				record.findings()
					.stream()
					.sorted(Comparator.comparing(FindingEntry::holdsTreatment).reversed())
					.map(this::line)
					.toList(),
				record.appointments().stream().map(this::row).toList(), clinical,
				clinical ? null : this.doors.ifOpen("/emergency-access?patient=" + id));
	}

	private List<Fact> facts(PatientSummary patient, LocalDate today, boolean clinical) {
		var facts = new ArrayList<Fact>();
		facts.add(new Fact(this.texts.say("record.fact.record-number"), patient.recordNumber(), null));
		facts.add(new Fact(this.texts.say("record.fact.born"), Texts.day(patient.birthDate()),
				(patient.birthDate() != null)
						? this.texts.say("record.age", Period.between(patient.birthDate(), today).getYears()) : null));
		facts.add(new Fact(this.texts.say("record.fact.sex"), this.texts.word("sex", patient.sex()), null));
		facts.add(new Fact(this.texts.say("record.fact.phone"), Texts.text(patient.phone()), null));
		facts.add(new Fact(this.texts.say("record.fact.email"), Texts.text(patient.email()), null));
		if (this.doors.isOpen("/patients/" + patient.id() + "/hold")) {
			this.holds.of(patient.id())
				.ifPresent((hold) -> facts.add(new Fact(this.texts.say("record.fact.hold"), hold.reason(),
						this.texts.say("record.fact.hold.since", Written.time(hold.setAt(), this.clock.getZone())))));
		}
		if (clinical) {
			facts.add(new Fact(this.texts.say("record.fact.phototype"), (patient.phototype() != null)
					? this.texts.word("phototype", patient.phototype().toString()) : Texts.NONE, null));
			facts.add(new Fact(this.texts.say("record.fact.skin-thickness"),
					this.texts.word("skin-thickness", patient.skinThickness()), null));
			facts.add(new Fact(this.texts.say("record.fact.sebum"), this.texts.word("sebum", patient.sebum()), null));
		}
		return facts;
	}

	private List<Door> entries(PatientRecord record) {
		var patient = "/patients/" + record.patient().id();
		var contact = "/sessions/" + record.lastSession() + "/contacts/new";
		var doors = this.doors.open(new Door(this.texts.say("record.enter.patient"), patient + "/edit"),
				new Door(this.texts.say("record.enter.series"), patient + "/series/new"),
				new Door(this.texts.say("record.enter.before"), patient + "/before"),
				new Door(this.texts.say("record.enter.assessment"), patient + "/assessments/new"),
				new Door(this.texts.say("record.scars.track"), patient + "/scars/new"),
				new Door(this.texts.say("record.enter.photographs"), patient + "/photographs"),
				new Door(this.texts.say("record.enter.finding"), patient + "/findings/new"),
				new Door(this.texts.say("record.enter.contact"), contact),
				new Door(this.texts.say("record.enter.booking"), patient + "/appointments/new"),
				new Door(this.texts.say("record.enter.contact-link"), patient + "/contact-link"),
				new Door(this.texts.say("record.enter.emergency"), patient + "/emergency"));
		return (record.lastSession() != null) ? doors
				: doors.stream()
					.filter((door) -> !door.href().equals(contact) && !door.href().endsWith("/contact-link"))
					.toList();
	}

	/**
	 * What is not care but concerns the record as such; none of it is done in passing.
	 */
	private List<Door> aboutTheRecord(PatientRecord record) {
		var patient = "/patients/" + record.patient().id();
		return this.doors.open(
				new Door(this.texts.say("record.patient.versions"), "/history/patient/" + record.patient().id()),
				new Door(this.texts.say("record.enter.report"), patient + "/report"),
				new Door(this.texts.say("record.enter.openings"), patient + "/openings"),
				new Door(this.texts.say("record.enter.hold"), patient + "/hold"),
				new Door(this.texts.say("record.enter.erase"), patient + "/erase"));
	}

	private SeriesRow row(PatientRecord.Course course, LocalDate today, boolean clinical) {
		var series = course.series();
		var standing = course.advice();
		var ended = (series.endedOn() != null) ? this.texts.say("record.patient.ended",
				this.texts.word("series-status", series.status()), Written.day(series.endedOn()))
				: this.texts.word("series-status", series.status());
		var sessions = (series.plannedSessions() != null)
				? this.texts.say("record.patient.sessions-planned", course.sessions(), series.plannedSessions())
				: this.texts.say("record.patient.sessions", course.sessions());
		return new SeriesRow(this.texts.say("record.patient.series", series.number()),
				this.doors.ifOpen("/series/" + series.id()), clinical ? series.goal() : null, ended, sessions,
				(standing != null) ? kind(standing, today) : null,
				(standing != null) ? this.wording.of(standing.advice().status()) : null,
				(standing != null) ? days(standing) : null, (standing != null) ? note(standing, today) : null,
				(standing != null && standing.advice().nextContact() != null)
						? this.texts.say("record.patient.contact-on", Written.weekday(standing.advice().nextContact()),
								this.texts.away(standing.advice().nextContact(), today))
						: null);
	}

	private static boolean isOverdue(StandingAdvice standing, LocalDate today) {
		return standing.last() != null && today.isAfter(standing.last());
	}

	private static String kind(StandingAdvice standing, LocalDate today) {
		return isOverdue(standing, today) ? "overdue" : AdviceCard.tone(standing.advice().status());
	}

	private @Nullable String days(StandingAdvice standing) {
		return (standing.first() != null && standing.last() != null) ? this.texts.say("record.patient.window",
				Written.weekday(standing.first()), Written.weekday(standing.last())) : null;
	}

	private @Nullable String note(StandingAdvice standing, LocalDate today) {
		if (isOverdue(standing, today)) {
			return this.texts.say("record.patient.overdue", Written.day(standing.last()));
		}
		if (standing.isOverridden()) {
			return this.texts.say("record.patient.own-window");
		}
		return (standing.advice().firstIfLumpPersisted() != null) ? this.texts.say("record.advice.if-persisted",
				Written.weekday(standing.advice().firstIfLumpPersisted())) : null;
	}

	private FindingLine line(FindingEntry finding) {
		return new FindingLine(Anchors.of(finding).substring(1), FindingRow.name(finding, this.texts),
				this.doors.ifOpen("/findings/" + finding.finding().id()), Written.day(finding.finding().firstNotedOn()),
				FindingRow.course(finding, this.texts), finding.finding().isOpenRedFlag(), finding.holdsTreatment());
	}

	private AppointmentRow row(AppointmentEntry entry) {
		return new AppointmentRow(this.doors.ifOpen("/appointments/" + entry.id()),
				this.doors.ifOpen("/history/appointment/" + entry.id()),
				Written.time(entry.startsAt(), this.clock.getZone()),
				this.texts.word("appointment-purpose", entry.purpose()), entry.practitioner(),
				this.texts.word("appointment-status", entry.status()),
				entry.startsAt().isAfter(Instant.now(this.clock)));
	}

}
