package org.seriatim.finding.web;

import java.time.Clock;
import java.time.Duration;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.EarlierVersions;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.finding.Channel;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.GradeScale;
import org.seriatim.finding.LumpDuration;
import org.seriatim.finding.PatientFindings;
import org.seriatim.finding.Reporter;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.Observation;
import org.seriatim.finding.domain.ObserveFinding;
import org.seriatim.patient.Corrections;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.validation.BeanPropertyBindingResult;
import org.springframework.validation.BindingResult;
import org.springframework.web.servlet.ModelAndView;

/** The pages of an adverse finding. */
@Component
class FindingPages {

	private static final int WORST_GRADE = 5;

	private final ObserveFinding observe;

	private final PatientFindings findings;

	private final TreatmentHistory treatment;

	private final TrackedScars scars;

	private final PatientDirectory patients;

	private final EarlierVersions earlierVersions;

	private final Corrections corrections;

	private final RedFlagPages redFlags;

	private final CurrentStaff staff;

	private final MessageSource messages;

	private final Clock clock;

	FindingPages(ObserveFinding observe, PatientFindings findings, TreatmentHistory treatment, TrackedScars scars,
			PatientDirectory patients, EarlierVersions earlierVersions, Corrections corrections, RedFlagPages redFlags,
			CurrentStaff staff, MessageSource messages, Clock clock) {
		this.observe = observe;
		this.findings = findings;
		this.treatment = treatment;
		this.scars = scars;
		this.patients = patients;
		this.earlierVersions = earlierVersions;
		this.corrections = corrections;
		this.redFlags = redFlags;
		this.staff = staff;
		this.messages = messages;
		this.clock = clock;
	}

	/** What the page says in one line. */
	record FactLine(String term, @Nullable String value) {
	}

	/**
	 * One observation.
	 *
	 * @param id for its correction
	 */
	record ObservationRow(String id, String observedOn, String reporter, String channel, boolean present, String size) {
	}

	/** The same errors about the same form with other contents. */
	static BindingResult errorsOf(Object form, BindingResult errors) {
		var all = new BeanPropertyBindingResult(form, "form");
		all.addAllErrors(errors);
		return all;
	}

	/**
	 * The form of a finding.
	 * @param edited the finding that is corrected, none for a new one
	 */
	ModelAndView form(PatientId patient, @Nullable Finding edited, HttpStatus status) {
		return new ModelAndView("finding/finding-form", status)
			.addObject("patient", this.patients.requireExisting(patient))
			.addObject("finding", (edited != null) ? edited.id() : null)
			.addObject("redFlag", edited != null && edited.isOpenRedFlag())
			.addObject("kinds", Choice.ofWords("finding-kind", FindingKind.values()))
			.addObject("regions", Choice.ofWords("region", Region.values()))
			.addObject("scars", this.scars.of(patient).stream().map(this::choice).toList())
			.addObject("sessions", this.treatment.sessionsOf(patient).stream().map(this::choice).toList())
			.addObject("grades", Choice.ofGrades("finding-grade", 1, WORST_GRADE))
			.addObject("gradeScales", Choice.ofWords("grade-scale", GradeScale.values()))
			.addObject("today", LocalDate.now(this.clock));
	}

	private Choice choice(TrackedScar scar) {
		return new Choice(scar.id().toString(), scar.label() + ", " + word("region", scar.region().word()));
	}

	private Choice choice(RecordedSession session) {
		return new Choice(session.id().toString(),
				say("finding.session", session.number(), Written.day(session.treatedOn())));
	}

	/** The page of one finding, whose opening is in the audit log. */
	ModelAndView page(Finding finding, Locale locale) {
		var session = session(finding);
		return new ModelAndView("finding/finding").addObject("patient", this.patients.open(finding.patient()))
			.addObject("finding", finding)
			.addObject("heading", name(finding))
			.addObject("facts", facts(finding, session.orElse(null)))
			.addObject("series", session.map(RecordedSession::series).orElse(null))
			.addObject("observations", this.observe.of(finding.id()).stream().map(this::row).toList())
			.addObject("questions", questions(finding, session.orElse(null)))
			.addObject("signs", finding.signs().stream().map((sign) -> word("red-flag-sign", sign.word())).toList())
			.addObject("raised", raised(finding))
			.addObject("acknowledged", acknowledged(finding))
			.addObject("closing", closing(finding))
			.addObject("mayEdit", this.staff.has(Role.PRACTITIONER) || this.staff.has(Role.CLINIC_LEAD))
			.addObject("mayClose", this.staff.has(Role.PRACTITIONER))
			.addObject("corrections", corrections(finding, locale));
	}

	/** The form of an observation. */
	ModelAndView observation(Finding finding, @Nullable Observation edited, HttpStatus status) {
		return about(finding, "finding/observation-form", status)
			.addObject("observation", (edited != null) ? edited.id() : null)
			.addObject("reporters", Choice.ofWords("reporter", Reporter.values()))
			.addObject("channels", Choice.ofWords("channel", Channel.values()))
			.addObject("presence",
					List.of(new Choice("true", "finding.present"), new Choice("false", "finding.absent")))
			.addObject("today", LocalDate.now(this.clock));
	}

	ModelAndView closing(Finding finding, HttpStatus status) {
		return about(finding, "finding/closing", status).addObject("today", LocalDate.now(this.clock));
	}

	ModelAndView reopening(Finding finding, HttpStatus status) {
		return about(finding, "finding/reopening", status).addObject("closing", closing(finding));
	}

	private ModelAndView about(Finding finding, String view, HttpStatus status) {
		return new ModelAndView(view, status).addObject("patient", this.patients.requireExisting(finding.patient()))
			.addObject("finding", finding.id())
			.addObject("heading", name(finding))
			.addObject("redFlag", finding.isOpenRedFlag());
	}

	/** Kind and place: Lump, CHT7; Bruise, Left medial cheek. */
	String name(Finding finding) {
		var details = finding.details();
		var place = scar(finding).map(TrackedScar::label)
			.orElseGet(() -> (details.region() != null) ? word("region", details.region().word()) : null);
		var kind = word("finding-kind", details.kind().word());
		return (place != null) ? kind + ", " + place : kind;
	}

	private Optional<TrackedScar> scar(Finding finding) {
		return Optional.ofNullable(finding.details().scar()).flatMap(this.scars::byId);
	}

	private Optional<RecordedSession> session(Finding finding) {
		return Optional.ofNullable(finding.session()).flatMap(this.treatment::session);
	}

	private List<FactLine> facts(Finding finding, @Nullable RecordedSession session) {
		var details = finding.details();
		var facts = new ArrayList<FactLine>();
		facts.add(fact("first-noted", Written.day(details.firstNotedOn())));
		facts.add(fact("session",
				(session != null) ? say("finding.session", session.number(), Written.day(session.treatedOn())) : null));
		facts.add(fact("region", (details.region() != null) ? word("region", details.region().word()) : null));
		facts.add(fact("scar", scar(finding).map(TrackedScar::label).orElse(null)));
		facts.add(fact("grade", grade(finding)));
		facts.add(fact("serious", truth(details.serious())));
		facts.add(fact("course", course(finding, session)));
		facts.add(fact("gone-on", (details.goneOn() != null) ? Written.day(details.goneOn()) : null));
		if (details.kind() == FindingKind.GRANULOMA) {
			facts.add(fact("histology", truth(details.histology())));
		}
		return facts;
	}

	private FactLine fact(String key, @Nullable String value) {
		return new FactLine(say("finding.fact." + key), value);
	}

	private @Nullable String grade(Finding finding) {
		var details = finding.details();
		if (details.grade() == null) {
			return null;
		}
		return (details.gradeScale() != null)
				? say("finding.graded", details.grade(), word("grade-scale", details.gradeScale().word()))
				: say("finding.graded-unknown", details.grade());
	}

	/** How long a lump lasted, or when another finding was last looked at. */
	private @Nullable String course(Finding finding, @Nullable RecordedSession session) {
		return duration(finding, session).map(this::lasted).orElseGet(() -> lastLook(finding));
	}

	private Optional<LumpDuration> duration(Finding finding, @Nullable RecordedSession session) {
		if (session == null || finding.kind() != FindingKind.LUMP) {
			return Optional.empty();
		}
		return this.findings.of(finding.patient())
			.stream()
			.filter((recorded) -> recorded.id().equals(finding.id()))
			.findFirst()
			.map((recorded) -> LumpDuration.of(recorded.facts(), session.treatedOn()));
	}

	private String lasted(LumpDuration duration) {
		var course = (duration.absentBy() != null)
				? say("finding.course.gone", duration.lastPresent(), duration.absentBy())
				: say("finding.course.not-seen-gone", duration.lastPresent());
		return duration.recurrent() ? say("finding.course.recurrent", course) : course;
	}

	private @Nullable String lastLook(Finding finding) {
		var all = this.observe.of(finding.id());
		if (all.isEmpty()) {
			return null;
		}
		var last = all.get(all.size() - 1).details();
		return say(last.present() ? "finding.course.present" : "finding.course.absent", Written.day(last.observedOn()));
	}

	private List<String> questions(Finding finding, @Nullable RecordedSession session) {
		return duration(finding, session).stream()
			.flatMap((duration) -> duration.questions().stream())
			.map((question) -> say(switch (question.contradiction()) {
				case DATED_BEFORE_SESSION -> "finding.question.before-session";
				case PRESENT_BEFORE_FIRST_NOTED -> "finding.question.present-before";
				case GONE_ON_CONTRADICTED -> "finding.question.gone-on";
			}, Written.day(question.date())))
			.toList();
	}

	private ObservationRow row(Observation observation) {
		var seen = observation.details();
		return new ObservationRow(observation.id().toString(), Written.day(seen.observedOn()),
				word("reporter", seen.reporter().word()), word("channel", seen.channel().word()), seen.present(),
				(seen.sizeMm() != null) ? say("finding.size", seen.sizeMm().toPlainString()) : "–");
	}

	private @Nullable String raised(Finding finding) {
		return (finding.raisedAt() != null) ? say("finding.red-flag.raised",
				Written.time(finding.raisedAt(), this.clock.getZone()), this.redFlags.name(finding.raisedBy())) : null;
	}

	private @Nullable String acknowledged(Finding finding) {
		if (finding.acknowledgedAt() == null || finding.raisedAt() == null) {
			return null;
		}
		return say("finding.red-flag.acknowledged", Written.time(finding.acknowledgedAt(), this.clock.getZone()),
				this.redFlags.name(finding.acknowledgedBy()),
				this.redFlags.lasting(Duration.between(finding.raisedAt(), finding.acknowledgedAt())));
	}

	private @Nullable String closing(Finding finding) {
		if (finding.closedOn() == null) {
			return null;
		}
		var closed = say("finding.closed-by", Written.day(finding.closedOn()), this.redFlags.name(finding.closedBy()));
		return (finding.closingReason() != null) ? closed + ": " + finding.closingReason() : closed;
	}

	private List<Corrections.WrittenCorrection> corrections(Finding finding, Locale locale) {
		Map<String, String> scarLabels = this.scars.of(finding.patient())
			.stream()
			.collect(Collectors.toMap((scar) -> scar.id().toString(), TrackedScar::label));
		Map<String, String> sessions = this.treatment.sessionsOf(finding.patient())
			.stream()
			.collect(Collectors.toMap((session) -> session.id().toString(), (session) -> choice(session).label()));
		return this.corrections.written(
				this.earlierVersions.of("finding", finding.id().value(), Map.of("finding_observation", "finding_id")),
				Map.of("kind", "finding-kind", "region", "region", "grade_scale", "grade-scale", "reporter", "reporter",
						"channel", "channel"),
				(column, value) -> switch (column) {
					case "scar_id" -> scarLabels.get(value);
					case "session_id" -> sessions.get(value);
					case "raised_at", "acknowledged_at" ->
						Written.time(OffsetDateTime.parse(value).toInstant(), this.clock.getZone());
					default -> null;
				}, locale);
	}

	private @Nullable String truth(@Nullable Boolean value) {
		return (value != null) ? say(value ? "shell.yes" : "shell.no") : null;
	}

	private String word(String vocabulary, String word) {
		return say(vocabulary + "." + word);
	}

	private String say(String key, Object... arguments) {
		return this.messages.getMessage(key, arguments, LocaleContextHolder.getLocale());
	}

}
