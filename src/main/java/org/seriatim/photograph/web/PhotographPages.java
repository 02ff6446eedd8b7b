package org.seriatim.photograph.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.LightSet;
import org.seriatim.photograph.Purpose;
import org.seriatim.photograph.View;
import org.seriatim.photograph.domain.KeepConsent;
import org.seriatim.photograph.domain.KeepPhotographs;
import org.seriatim.photograph.domain.Photograph;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;
import org.springframework.context.MessageSource;
import org.springframework.context.MessageSourceResolvable;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.ModelAndView;

/** The pages of a patient's photographs. */
@Component
class PhotographPages {

	private final KeepPhotographs photographs;

	private final KeepConsent consent;

	private final TrackedScars scars;

	private final PatientDirectory patients;

	private final StaffDirectory directory;

	private final CurrentStaff staff;

	private final MessageSource messages;

	private final Clock clock;

	PhotographPages(KeepPhotographs photographs, KeepConsent consent, TrackedScars scars, PatientDirectory patients,
			StaffDirectory directory, CurrentStaff staff, MessageSource messages, Clock clock) {
		this.photographs = photographs;
		this.consent = consent;
		this.scars = scars;
		this.patients = patients;
		this.directory = directory;
		this.staff = staff;
		this.messages = messages;
		this.clock = clock;
	}

	/**
	 * One photograph as lists show it.
	 *
	 * @param title view and what it shows
	 * @param marks what must be said with it: light, mirrored, not in order
	 */
	record Line(String id, String title, String day, List<String> marks) {
	}

	/** The photographs of one day. */
	record Day(String day, List<Line> lines) {
	}

	/** What a page says in one line. */
	record FactLine(String term, @Nullable String value) {
	}

	/**
	 * All photographs by their days, the latest first.
	 * @param view only this one
	 * @param scar only this one
	 */
	ModelAndView list(PatientId patient, @Nullable View view, @Nullable ScarId scar) {
		var summary = this.patients.open(patient);
		var all = this.photographs.of(patient);
		var scarNames = scarNames(patient);
		var shown = all.stream()
			.filter((photograph) -> !photograph.isSetAside())
			.filter((photograph) -> view == null || photograph.view() == view)
			.filter((photograph) -> scar == null || scar.equals(photograph.details().scar()))
			.toList();
		return page("photograph/photographs", patient, HttpStatus.OK).addObject("patient", summary)
			.addObject("days", days(shown, scarNames))
			.addObject("aside",
					mayDecide() ? all.stream()
						.filter(Photograph::isSetAside)
						.map((photograph) -> line(photograph, scarNames))
						.toList() : List.of())
			.addObject("any", !all.isEmpty())
			.addObject("shownView", (view != null) ? view.word() : null)
			.addObject("shownScar", (scar != null) ? scar.toString() : null);
	}

	private List<Day> days(List<Photograph> shown, Map<ScarId, String> scarNames) {
		var byDay = new LinkedHashMap<LocalDate, List<Line>>();
		shown.forEach((photograph) -> byDay.computeIfAbsent(photograph.takenOn(), (day) -> new ArrayList<>())
			.add(line(photograph, scarNames)));
		return byDay.entrySet()
			.stream()
			.map((entry) -> new Day(Written.day(entry.getKey()), entry.getValue()))
			.toList();
	}

	Line line(Photograph photograph) {
		return line(photograph, scarNames(photograph.patient()));
	}

	Line line(Photograph photograph, Map<ScarId, String> scarNames) {
		var details = photograph.details();
		var marks = new ArrayList<String>();
		marks.add(word("light-set", details.lightSet().word()));
		if (details.mirrored()) {
			marks.add(say("photograph.mirrored"));
		}
		if (Boolean.FALSE.equals(details.qualityOk())) {
			marks.add(say("photograph.not-in-order"));
		}
		return new Line(photograph.id().toString(), title(photograph, scarNames), Written.day(photograph.takenOn()),
				marks);
	}

	private String title(Photograph photograph, Map<ScarId, String> scarNames) {
		var details = photograph.details();
		var shown = (details.scar() != null) ? scarNames.getOrDefault(details.scar(), "")
				: (details.region() != null) ? word("region", details.region().word()) : "";
		var view = word("view", details.view().word());
		return shown.isEmpty() ? view : say("photograph.of", view, shown);
	}

	Map<ScarId, String> scarNames(PatientId patient) {
		var names = new LinkedHashMap<ScarId, String>();
		this.scars.of(patient).forEach((scar) -> names.put(scar.id(), scar.label()));
		return names;
	}

	/**
	 * The form of new photographs, or of one that is corrected.
	 * @param edited none for new ones
	 */
	ModelAndView form(PatientId patient, @Nullable Photograph edited, HttpStatus status) {
		return page("photograph/photograph-form", patient, status).addObject("photograph", edited)
			.addObject("lines", (edited != null) ? List.of(line(edited)) : List.of());
	}

	private ModelAndView page(String view, PatientId patient, HttpStatus status) {
		return new ModelAndView(view, status).addObject("patient", this.patients.requireExisting(patient))
			.addObject("views", Choice.ofWords("view", View.values()))
			.addObject("lightSets", Choice.ofWords("light-set", LightSet.values()))
			.addObject("regions", Choice.ofWords("region", Region.values()))
			.addObject("scars", this.scars.of(patient).stream().map(this::choice).toList())
			.addObject("today", LocalDate.now(this.clock))
			.addObject("allowed", this.consent.isGiven(patient, Purpose.CARE))
			.addObject("purposes", purposes(patient))
			.addObject("mayDecide", mayDecide());
	}

	private Choice choice(TrackedScar scar) {
		return new Choice(scar.id().toString(), scar.label() + ", " + word("region", scar.region().word()));
	}

	/** What is allowed, and what is not. */
	private List<FactLine> purposes(PatientId patient) {
		return Arrays.stream(Purpose.values())
			.map((purpose) -> new FactLine(word("photograph-purpose", purpose.word()),
					say(this.consent.isGiven(patient, purpose) ? "photograph.allowed" : "photograph.not-allowed")))
			.toList();
	}

	/**
	 * The page of one photograph, whose opening is in the audit log with that of its
	 * picture.
	 */
	ModelAndView show(Photograph photograph) {
		var patient = photograph.patient();
		this.patients.open(patient);
		return page("photograph/photograph", patient, HttpStatus.OK).addObject("photograph", photograph)
			.addObject("line", line(photograph))
			.addObject("facts", facts(photograph))
			.addObject("copies",
					Arrays.stream(Purpose.values())
						.filter((purpose) -> purpose != Purpose.CARE)
						.map((purpose) -> new Copy(purpose.word(), this.consent.isGiven(patient, purpose)))
						.toList());
	}

	/** A copy for a purpose outside of the record. */
	record Copy(String purpose, boolean allowed) {
	}

	private List<FactLine> facts(Photograph photograph) {
		var details = photograph.details();
		var facts = new ArrayList<FactLine>();
		facts.add(fact("taken", Written.day(photograph.takenOn())
				+ ((details.takenAt() != null) ? ", " + details.takenAt().withSecond(0).withNano(0) : "")));
		facts.add(fact("by", photograph.takenBy().flatMap(this.directory::byId).map(StaffMember::name).orElse(null)));
		facts.add(fact("light", word("light-set", details.lightSet().word())));
		facts.add(fact("camera", details.camera()));
		facts.add(fact("distance", (details.distanceCm() != null) ? say("photograph.cm", details.distanceCm()) : null));
		if (details.view() == View.CLOSE) {
			facts.add(fact("yaw",
					(details.yawDegrees() != null) ? say("photograph.degrees", details.yawDegrees()) : null));
			facts.add(fact("region", (details.region() != null) ? word("region", details.region().word()) : null));
		}
		facts.add(fact("mirrored", say(details.mirrored() ? "photograph.yes" : "photograph.no")));
		facts.add(fact("quality", quality(photograph)));
		facts.add(fact("size", say("photograph.pixels", photograph.width(), photograph.height())));
		return facts;
	}

	private @Nullable String quality(Photograph photograph) {
		var ok = photograph.details().qualityOk();
		if (ok == null) {
			return null;
		}
		return ok ? say("photograph.in-order")
				: say("photograph.not-in-order-because", String.valueOf(photograph.details().qualityNote()));
	}

	private FactLine fact(String term, @Nullable String value) {
		return new FactLine(say("photograph.fact." + term), value);
	}

	/** The latest one of the same view, to be had at hand when the next is taken. */
	Optional<Photograph> latest(PatientId patient, @Nullable View view, @Nullable ScarId scar) {
		return this.photographs.of(patient)
			.stream()
			.filter((photograph) -> !photograph.isSetAside())
			.filter((photograph) -> view == null || photograph.view() == view)
			.filter((photograph) -> scar == null || scar.equals(photograph.details().scar()))
			.findFirst();
	}

	/** Who may take photographs out of sight and out of the house. */
	boolean mayDecide() {
		return this.staff.has(Role.PRACTITIONER) || this.staff.has(Role.CLINIC_LEAD);
	}

	String word(String prefix, String word) {
		return say(prefix + "." + word);
	}

	String say(MessageSourceResolvable message) {
		return this.messages.getMessage(message, LocaleContextHolder.getLocale());
	}

	String say(String key, Object... arguments) {
		return this.messages.getMessage(key, arguments, LocaleContextHolder.getLocale());
	}

}
