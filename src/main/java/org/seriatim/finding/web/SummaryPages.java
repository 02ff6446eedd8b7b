package org.seriatim.finding.web;

import java.time.LocalDate;
import java.time.Period;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.finding.LumpForm;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.FindingSettings;
import org.seriatim.finding.domain.FindingSides;
import org.seriatim.finding.domain.ObserveFinding;
import org.seriatim.finding.domain.RelatedTreatment;
import org.seriatim.finding.domain.TreatFinding;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientSummary;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.ModelAndView;

/**
 * Makes the summary. It takes over no name, no number of a record, no label, no calendar
 * date of the patient and no free text, since any of them can say who it is: days are
 * counted from the session.
 */
@Component
class SummaryPages {

	private static final String NONE = "\u2013";

	private final ObserveFinding observe;

	private final TreatFinding treat;

	private final FindingSettings settings;

	private final TreatmentHistory treatment;

	private final TrackedScars scars;

	private final PatientDirectory patients;

	private final MessageSource messages;

	SummaryPages(ObserveFinding observe, TreatFinding treat, FindingSettings settings, TreatmentHistory treatment,
			TrackedScars scars, PatientDirectory patients, MessageSource messages) {
		this.observe = observe;
		this.treat = treat;
		this.settings = settings;
		this.treatment = treatment;
		this.scars = scars;
		this.patients = patients;
		this.messages = messages;
	}

	/** One line of the summary. */
	record SummaryLine(String term, String value) {
	}

	/** A group of lines. */
	record SummaryPart(String title, List<SummaryLine> lines) {
	}

	/** The page, whose opening is in the audit log. */
	ModelAndView of(Finding finding) {
		var patient = this.patients.open(finding.patient());
		var sessions = this.treatment.sessionsOf(finding.patient());
		var counted = sessions.stream().filter((session) -> session.id().equals(finding.session())).findFirst();
		var scar = Optional.ofNullable(finding.details().scar()).flatMap(this.scars::byId);
		var region = Optional.ofNullable(finding.details().region()).or(() -> scar.map(TrackedScar::region));
		var related = RelatedTreatment.of(sessions, region.orElse(null), finding.details().scar(), finding.onset(),
				counted.orElse(null));
		return new ModelAndView("finding/summary").addObject("finding", finding.id())
			.addObject("parts",
					List.of(new SummaryPart(say("finding.summary.patient"), patient(patient, finding.onset().first())),
							new SummaryPart(say("finding.summary.finding"), finding(finding, related)),
							new SummaryPart(say("finding.summary.treatment"), treatment(related)),
							new SummaryPart(say("finding.summary.course"), course(finding, related))));
	}

	private List<SummaryLine> patient(PatientSummary patient, LocalDate onset) {
		return List.of(
				line("age", (patient.birthDate() != null)
						? say("finding.summary.years", Period.between(patient.birthDate(), onset).getYears()) : null),
				line("sex", (patient.sex() != null) ? say("sex." + patient.sex().word()) : null),
				line("phototype", (patient.phototype() != null) ? say("phototype." + patient.phototype()) : null));
	}

	private List<SummaryLine> finding(Finding finding, RelatedTreatment related) {
		var details = finding.details();
		var more = details.particulars();
		var lines = new ArrayList<SummaryLine>();
		lines.add(line("kind", say("finding-kind." + details.kind().word())));
		lines.add(line("region", (related.region() != null) ? say("region." + related.region().word()) : null));
		lines.add(line("side",
				Optional.ofNullable(more.side())
					.or(() -> Optional.ofNullable(related.region()).flatMap(FindingSides::of))
					.map((side) -> say("side." + side.word()))
					.orElse(null)));
		lines.add(line("onset", onset(related)));
		lines.add(line("onset-class",
				details.isMass() ? related.classes()
					.stream()
					.map((one) -> say("onset-class." + one.word()))
					.collect(Collectors.joining(" " + say("finding.or") + " ")) : null));
		lines.add(line("noticed-by", (more.noticedBy() != null) ? say("noticed-by." + more.noticedBy().word()) : null));
		lines.add(line("signs",
				finding.signs()
					.stream()
					.map((sign) -> say("red-flag-sign." + sign.word()))
					.collect(Collectors.joining("; "))));
		lines.add(line("grade", (details.grade() == null) ? null
				: (details.gradeScale() != null)
						? say("finding.graded", details.grade(), say("grade-scale." + details.gradeScale().word()))
						: say("finding.graded-unknown", details.grade())));
		lines.add(line("visibility",
				(more.visibility() != null) ? say("finding-visibility." + more.visibility()) : null));
		lines.add(line("serious",
				more.criteria().isEmpty() ? truth(details.serious())
						: more.criteriaInOrder()
							.stream()
							.map((criterion) -> say("seriousness." + criterion.word()))
							.collect(Collectors.joining("; "))));
		var causality = finding.causality();
		lines.add(line("causality", (causality != null) ? say("causality." + causality.causality().word())
				: say("finding.causality.pending")));
		lines.add(line("outcome", (more.course() != null) ? say("finding-course." + more.course().word()) : null));
		return lines;
	}

	private @Nullable String onset(RelatedTreatment related) {
		if (related.firstDay().isEmpty()) {
			return null;
		}
		var first = related.firstDay().get();
		var last = related.lastDay().orElse(first);
		return first.equals(last) ? say("finding.summary.day", first) : say("finding.summary.days", first, last);
	}

	private List<SummaryLine> treatment(RelatedTreatment related) {
		var lines = new ArrayList<SummaryLine>();
		lines.add(line("sessions", (related.latest() != null)
				? say("finding.summary.sessions-there", related.earlier().size() + 1) : null));
		for (var preparation : related.preparations()) {
			lines.add(line("product", product(preparation)));
		}
		lines.add(line("layers",
				Optional.ofNullable(related.latest())
					.map((session) -> session.injections()
						.stream()
						.filter((one) -> one.region() == related.region())
						.map(RecordedInjection::layer)
						.filter(Objects::nonNull)
						.distinct()
						.map((layer) -> say("layer." + layer.word()))
						.collect(Collectors.joining(", ")))
					.orElse(null)));
		lines.add(line("combination",
				Optional.ofNullable(related.latest())
					.flatMap((session) -> Optional.ofNullable(session.combination()))
					.map((combination) -> say("combination." + combination.word()))
					.orElse(null)));
		return lines;
	}

	private String product(RecordedPreparation preparation) {
		return say("finding.summary.lot", preparation.product(), Objects.requireNonNullElse(preparation.lot(), NONE),
				(preparation.expiresOn() != null) ? preparation.expiresOn().toString() : NONE);
	}

	/** What was seen and done, by days after the session; without one, from its onset. */
	private List<SummaryLine> course(Finding finding, RelatedTreatment related) {
		var from = (related.latest() != null) ? related.latest().treatedOn() : finding.onset().first();
		record Step(LocalDate on, String what) {
		}
		var seen = this.observe.of(finding.id()).stream().map((observation) -> {
			var details = observation.details();
			var what = say(details.present() ? "finding.present" : "finding.absent");
			return new Step(details.observedOn(), (details.sizeMm() == null) ? what
					: what + ", " + say("finding.size", details.sizeMm().toPlainString()) + (finding.details().isMass()
							? ", " + say(
									"lump-form." + LumpForm.of(details.sizeMm(), this.settings.noduleFromMm()).word())
							: ""));
		});
		var done = this.treat.of(finding.id())
			.stream()
			.map((action) -> new Step(action.details().doneOn(),
					say("finding-action." + action.details().action().word())));
		var lines = Stream.concat(seen, done)
			.sorted(Comparator.comparing(Step::on))
			.map((step) -> new SummaryLine(say("finding.day", ChronoUnit.DAYS.between(from, step.on())), step.what()))
			.collect(Collectors.toCollection(ArrayList::new));
		if (finding.closedOn() != null) {
			lines.add(new SummaryLine(say("finding.day", ChronoUnit.DAYS.between(from, finding.closedOn())),
					say("finding.summary.closed")));
		}
		return lines;
	}

	private SummaryLine line(String key, @Nullable String value) {
		return new SummaryLine(say("finding.summary." + key), (value == null || value.isEmpty()) ? NONE : value);
	}

	private @Nullable String truth(@Nullable Boolean value) {
		return (value != null) ? say(value ? "shell.yes" : "shell.no") : null;
	}

	private String say(String key, Object... arguments) {
		return this.messages.getMessage(key, arguments, LocaleContextHolder.getLocale());
	}

}
