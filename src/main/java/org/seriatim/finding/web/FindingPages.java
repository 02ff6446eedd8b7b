package org.seriatim.finding.web;

import java.math.BigDecimal;
import java.time.Clock;
import java.time.Duration;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.EarlierVersions;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.finding.ActionClass;
import org.seriatim.finding.CarriedOut;
import org.seriatim.finding.Causality;
import org.seriatim.finding.Channel;
import org.seriatim.finding.FindingCourse;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.FindingSide;
import org.seriatim.finding.GradeScale;
import org.seriatim.finding.HowReported;
import org.seriatim.finding.LumpDuration;
import org.seriatim.finding.LumpForm;
import org.seriatim.finding.NoticedBy;
import org.seriatim.finding.PatientFindings;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.ReportDecision;
import org.seriatim.finding.Reporter;
import org.seriatim.finding.SeriousnessCriterion;
import org.seriatim.finding.domain.ConsiderReporting;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.FindingAction;
import org.seriatim.finding.domain.FindingDetails;
import org.seriatim.finding.domain.FindingParticulars.Onset;
import org.seriatim.finding.domain.FindingReport;
import org.seriatim.finding.domain.FindingSettings;
import org.seriatim.finding.domain.KeepFindings;
import org.seriatim.finding.domain.Observation;
import org.seriatim.finding.domain.ObserveFinding;
import org.seriatim.finding.domain.RelatedTreatment;
import org.seriatim.finding.domain.Seriousness;
import org.seriatim.finding.domain.TreatFinding;
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

	private static final int MOST_VISIBLE = 3;

	private static final Pattern WORD = Pattern.compile("[a-z_]+");

	private static final Map<String, String> WORDS = Map.ofEntries(Map.entry("kind", "finding-kind"),
			Map.entry("region", "region"), Map.entry("grade_scale", "grade-scale"), Map.entry("reporter", "reporter"),
			Map.entry("channel", "channel"), Map.entry("side", "side"), Map.entry("noticed_by", "noticed-by"),
			Map.entry("how_reported", "how-reported"), Map.entry("course", "finding-course"),
			Map.entry("causality", "causality"), Map.entry("action", "finding-action"),
			Map.entry("carried_out", "carried-out"), Map.entry("decision", "report-decision"),
			Map.entry("visibility", "finding-visibility"));

	private final KeepFindings keep;

	private final ObserveFinding observe;

	private final TreatFinding treat;

	private final ConsiderReporting reporting;

	private final FindingSettings settings;

	private final StaffDirectory members;

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

	FindingPages(KeepFindings keep, ObserveFinding observe, TreatFinding treat, ConsiderReporting reporting,
			FindingSettings settings, StaffDirectory members, PatientFindings findings, TreatmentHistory treatment,
			TrackedScars scars, PatientDirectory patients, EarlierVersions earlierVersions, Corrections corrections,
			RedFlagPages redFlags, CurrentStaff staff, MessageSource messages, Clock clock) {
		this.keep = keep;
		this.observe = observe;
		this.treat = treat;
		this.reporting = reporting;
		this.settings = settings;
		this.members = members;
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
	 * A step of its course: an observation, or something that was done.
	 *
	 * @param edit where it is corrected
	 * @param history its earlier versions; none while there are none
	 */
	record CourseRow(LocalDate on, String day, @Nullable String since, String what, @Nullable String words, String by,
			String how, boolean action, String edit, @Nullable String history) {
	}

	/**
	 * Whether it has to be reported to somebody.
	 *
	 * @param edit where it is corrected
	 * @param history its earlier versions; none while there are none
	 */
	record ReportRow(String considered, String decision, String reason, String recipient, String sent, String due,
			String edit, @Nullable String history) {
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
			.addObject("signs", Choice.ofWords("red-flag-sign", RedFlagSign.values()))
			.addObject("sides", Choice.ofWords("side", FindingSide.values()))
			.addObject("noticers", Choice.ofWords("noticed-by", NoticedBy.values()))
			.addObject("reportings", Choice.ofWords("how-reported", HowReported.values()))
			.addObject("criteria", Choice.ofWords("seriousness", SeriousnessCriterion.values()))
			.addObject("visibilities", Choice.ofGrades("finding-visibility", 1, MOST_VISIBLE))
			.addObject("courses", Choice.ofWords("finding-course", FindingCourse.values()))
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
		var related = related(finding, session.orElse(null));
		var licensed = this.staff.has(Role.PRACTITIONER) || this.staff.has(Role.CLINIC_LEAD);
		return new ModelAndView("finding/finding").addObject("patient", this.patients.open(finding.patient()))
			.addObject("finding", finding)
			.addObject("heading", name(finding))
			.addObject("facts", facts(finding, session.orElse(null), related))
			.addObject("doubts", doubts(finding, session.orElse(null), related))
			.addObject("series", session.map(RecordedSession::series).orElse(null))
			.addObject("steps", steps(finding, related))
			.addObject("questions", questions(finding, session.orElse(null)))
			.addObject("signs", finding.signs().stream().map((sign) -> word("red-flag-sign", sign.word())).toList())
			.addObject("raised", raised(finding))
			.addObject("acknowledged", acknowledged(finding))
			.addObject("waiting", waiting(finding))
			.addObject("closing", closing(finding))
			.addObject("closedAfter", closedAfter(finding))
			.addObject("causality", causality(finding))
			.addObject("reports", this.reporting.of(finding.id()).stream().map(this::row).toList())
			.addObject("reportDue", reportDue(finding))
			.addObject("mayEdit", licensed)
			.addObject("mayClose", this.staff.has(Role.PRACTITIONER))
			.addObject("corrections", corrections(finding, locale));
	}

	private RelatedTreatment related(Finding finding, @Nullable RecordedSession session) {
		var scar = scar(finding);
		var region = (finding.details().region() != null) ? finding.details().region()
				: scar.map(TrackedScar::region).orElse(null);
		return RelatedTreatment.of(this.treatment.sessionsOf(finding.patient()), region, finding.details().scar(),
				finding.onset(), session);
	}

	/** What stays beside the record although it can be so. */
	private List<String> doubts(Finding finding, @Nullable RecordedSession counted, RelatedTreatment related) {
		var details = finding.details();
		var doubts = new ArrayList<String>();
		// serious by a bundle, which does not say why
		var unexplained = Boolean.TRUE.equals(details.serious()) && details.particulars().criteria().isEmpty();
		Seriousness.doubts(details.grade(), details.particulars().criteria())
			.stream()
			.filter((doubt) -> !unexplained)
			.map((doubt) -> say("finding.doubt." + doubt.name().toLowerCase(Locale.ROOT).replace('_', '-')))
			.forEach(doubts::add);
		if (unexplained) {
			doubts.add(say("finding.doubt.serious-without-criterion"));
		}
		var latest = related.latest();
		if (latest != null && counted != null && !latest.id().equals(counted.id())) {
			doubts.add(say("finding.doubt.later-session", choice(latest).label(), choice(counted).label()));
		}
		return doubts;
	}

	/** Observations and actions by their days, what was seen before what was done. */
	private List<CourseRow> steps(Finding finding, RelatedTreatment related) {
		return Stream
			.concat(this.observe.of(finding.id()).stream().map((seen) -> row(finding, seen, related)),
					this.treat.of(finding.id()).stream().map((done) -> row(done, related)))
			.sorted(Comparator.comparing(CourseRow::on).thenComparing(CourseRow::action))
			.toList();
	}

	private CourseRow row(Finding finding, Observation observation, RelatedTreatment related) {
		var seen = observation.details();
		var what = say(seen.present() ? "finding.present" : "finding.absent");
		return new CourseRow(seen.observedOn(), Written.day(seen.observedOn()), since(seen.observedOn(), related),
				(seen.sizeMm() != null) ? what + ", " + size(finding, seen.sizeMm()) : what, null,
				word("reporter", seen.reporter().word()), word("channel", seen.channel().word()), false,
				"/observations/" + observation.id() + "/edit",
				history("finding_observation", observation.id(), observation.version()));
	}

	/* The form follows from the size, so it is told beside it and kept nowhere. */
	private String size(Finding finding, BigDecimal sizeMm) {
		var size = say("finding.size", sizeMm.toPlainString());
		return finding.details().isMass()
				? size + ", " + word("lump-form", LumpForm.of(sizeMm, this.settings.noduleFromMm()).word()) : size;
	}

	private CourseRow row(FindingAction action, RelatedTreatment related) {
		var done = action.details();
		return new CourseRow(done.doneOn(), Written.day(done.doneOn()), since(done.doneOn(), related),
				word("finding-action", done.action().word()), done.description(),
				(done.doneBy() != null) ? this.redFlags.name(done.doneBy()) : "\u2013",
				word("carried-out", done.carriedOut().word()), true, "/finding-actions/" + action.id() + "/edit",
				history("finding_action", action.id(), action.version()));
	}

	private @Nullable String since(LocalDate day, RelatedTreatment related) {
		var latest = related.latest();
		return (latest != null && !day.isBefore(latest.treatedOn()))
				? say("finding.day", ChronoUnit.DAYS.between(latest.treatedOn(), day)) : null;
	}

	private static @Nullable String history(String kind, Object id, @Nullable Long version) {
		return (version != null && version > 0) ? "/history/" + kind + "/" + id : null;
	}

	private ReportRow row(FindingReport report) {
		var known = report.details();
		var sent = (known.sentOn() != null) ? Written.day(known.sentOn()) : "\u2013";
		return new ReportRow(
				say("finding.report.considered-by", Written.day(known.consideredOn()),
						this.redFlags.name(known.consideredBy())),
				word("report-decision", known.decision().word()), known.reason(), orNone(known.recipient()),
				(known.reference() != null) ? say("finding.report.sent-as", sent, known.reference()) : sent,
				(known.followUpDue() != null) ? Written.day(known.followUpDue()) : "\u2013",
				"/finding-reports/" + report.id() + "/edit", history("finding_report", report.id(), report.version()));
	}

	private static String orNone(@Nullable String text) {
		return (text != null) ? text : "\u2013";
	}

	/**
	 * By when a report is due where the clinic has set a time and none was decided on.
	 */
	private @Nullable String reportDue(Finding finding) {
		var days = this.settings.reportWithinDays();
		var decided = this.reporting.of(finding.id())
			.stream()
			.anyMatch((report) -> report.details().decision() == ReportDecision.DO_NOT_REPORT
					|| report.details().sentOn() != null);
		if (days == null || decided) {
			return null;
		}
		return say("finding.report.due", Written.day(this.keep.knownSince(finding).plusDays(days)), days);
	}

	private @Nullable String causality(Finding finding) {
		var assessed = finding.causality();
		return (assessed != null) ? say("finding.causality.assessed", word("causality", assessed.causality().word()),
				Written.day(assessed.assessedOn()), this.redFlags.name(assessed.assessor())) : null;
	}

	private @Nullable String waiting(Finding finding) {
		return (finding.isOpenRedFlag() && finding.acknowledgedAt() == null && finding.raisedAt() != null)
				? say("finding.red-flag.waiting-for",
						this.redFlags.lasting(Duration.between(finding.raisedAt(), this.clock.instant())))
				: null;
	}

	private @Nullable String closedAfter(Finding finding) {
		return (finding.closedAt() != null && finding.raisedAt() != null) ? say("finding.red-flag.closed-after",
				this.redFlags.lasting(Duration.between(finding.raisedAt(), finding.closedAt()))) : null;
	}

	/** The form of something that was done. */
	ModelAndView action(Finding finding, @Nullable FindingAction edited, HttpStatus status) {
		return about(finding, "finding/action-form", status).addObject("action", (edited != null) ? edited.id() : null)
			.addObject("actionClasses", Choice.ofWords("finding-action", ActionClass.values()))
			.addObject("places", Choice.ofWords("carried-out", CarriedOut.values()))
			.addObject("members", members(this.members.all()))
			.addObject("today", LocalDate.now(this.clock));
	}

	/** The form of a decision on reporting. */
	ModelAndView report(Finding finding, @Nullable FindingReport edited, HttpStatus status) {
		return about(finding, "finding/report-form", status).addObject("report", (edited != null) ? edited.id() : null)
			.addObject("decisions", Choice.ofWords("report-decision", ReportDecision.values()))
			.addObject("members", members(this.members.all()))
			.addObject("followUpAfter", this.settings.followUpAfterDays())
			.addObject("today", LocalDate.now(this.clock));
	}

	/** The form of the causality. */
	ModelAndView causality(Finding finding, HttpStatus status) {
		return about(finding, "finding/causality-form", status).addObject("assessed", finding.causality() != null)
			.addObject("causalities", Choice.ofWords("causality-meaning", Causality.values()))
			.addObject("members", members(this.keep.assessors()))
			.addObject("today", LocalDate.now(this.clock));
	}

	private static List<Choice> members(List<StaffMember> members) {
		return members.stream().map((member) -> new Choice(member.id().toString(), member.name())).toList();
	}

	/** The form of an observation. */
	ModelAndView observation(Finding finding, @Nullable Observation edited, HttpStatus status) {
		return about(finding, "finding/observation-form", status)
			.addObject("observation", (edited != null) ? edited.id() : null)
			.addObject("signs", Choice.ofWords("red-flag-sign", RedFlagSign.values()))
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

	private List<FactLine> facts(Finding finding, @Nullable RecordedSession session, RelatedTreatment related) {
		var details = finding.details();
		var more = details.particulars();
		var facts = new ArrayList<FactLine>();
		facts.add(fact("onset", onset(more.onset())));
		facts.add(fact("first-noted", Written.day(details.firstNotedOn())));
		facts.add(fact("session",
				(session != null) ? say("finding.session", session.number(), Written.day(session.treatedOn())) : null));
		facts.add(fact("region", (details.region() != null) ? word("region", details.region().word()) : null));
		if (more.side() != null) {
			facts.add(fact("side", word("side", more.side().word())));
		}
		facts.add(fact("scar", scar(finding).map(TrackedScar::label).orElse(null)));
		facts.add(fact("onset-class", onsetClass(finding, related)));
		facts.add(fact("earlier-sessions", earlier(related)));
		facts.add(fact("lots", lots(related)));
		facts.add(fact("noticed-by", (more.noticedBy() != null) ? word("noticed-by", more.noticedBy().word()) : null));
		facts.add(fact("how-reported",
				(more.howReported() != null) ? word("how-reported", more.howReported().word()) : null));
		facts.add(fact("grade", grade(finding)));
		if (details.isMass()) {
			facts.add(fact("visibility",
					(more.visibility() != null) ? word("finding-visibility", more.visibility().toString()) : null));
			facts.add(fact("inflammatory", truth(more.inflammatory())));
		}
		facts.add(fact("serious", serious(details)));
		facts.add(fact("outcome", (more.course() != null) ? word("finding-course", more.course().word()) : null));
		facts.add(fact("course", course(finding, session)));
		facts.add(fact("gone-on", (details.goneOn() != null) ? Written.day(details.goneOn()) : null));
		if (details.kind() == FindingKind.GRANULOMA) {
			facts.add(fact("histology", truth(details.histology())));
		}
		return facts;
	}

	private String onset(@Nullable Onset onset) {
		if (onset == null) {
			return say("finding.onset.as-noted");
		}
		return onset.isOneDay() ? Written.day(onset.first())
				: say("finding.onset.between", Written.day(onset.first()), Written.day(onset.last()));
	}

	/**
	 * How long after the latest session in the region it began, with its class for a
	 * lump.
	 */
	private @Nullable String onsetClass(Finding finding, RelatedTreatment related) {
		var latest = related.latest();
		if (latest == null) {
			return null;
		}
		var first = related.firstDay().orElseThrow();
		var last = related.lastDay().orElseThrow();
		var days = first.equals(last) ? say("finding.onset.day", first, latest.number())
				: say("finding.onset.days", first, last, latest.number());
		return finding.details().isMass() ? days + ": "
				+ related.classes()
					.stream()
					.map((one) -> word("onset-class", one.word()))
					.collect(Collectors.joining(" " + say("finding.or") + " "))
				: days;
	}

	private @Nullable String earlier(RelatedTreatment related) {
		return related.earlier().isEmpty() ? null
				: related.earlier()
					.stream()
					.map((session) -> choice(session).label())
					.collect(Collectors.joining("; "));
	}

	private @Nullable String lots(RelatedTreatment related) {
		return related.preparations().isEmpty() ? null
				: related.preparations()
					.stream()
					.map((preparation) -> say("finding.lot", preparation.product(), orNone(preparation.lot())))
					.distinct()
					.collect(Collectors.joining("; "));
	}

	private @Nullable String serious(FindingDetails details) {
		var criteria = details.particulars().criteriaInOrder();
		return criteria.isEmpty() ? truth(details.serious())
				: say("finding.serious-by",
						criteria.stream()
							.map((criterion) -> word("seriousness", criterion.word()))
							.collect(Collectors.joining("; ")));
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
				this.earlierVersions.of("finding", finding.id().value(), Map.of("finding_observation", "finding_id",
						"finding_action", "finding_id", "finding_report", "finding_id")),
				WORDS, (column, value) -> switch (column) {
					case "signs" -> listed("red-flag-sign", value);
					case "seriousness_criteria" -> listed("seriousness", value);
					case "scar_id" -> scarLabels.get(value);
					case "session_id" -> sessions.get(value);
					case "raised_at", "acknowledged_at", "closed_at" ->
						Written.time(OffsetDateTime.parse(value).toInstant(), this.clock.getZone());
					default -> null;
				}, locale);
	}

	/* A list of words as the database writes it: ["death", "disability"]. */
	private String listed(String vocabulary, String stored) {
		return WORD.matcher(stored)
			.results()
			.map((word) -> word(vocabulary, word.group()))
			.collect(Collectors.joining("; "));
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
