package org.seriatim.assessment.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarStanding;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.assessment.domain.AssessmentDay;
import org.seriatim.assessment.domain.ClassifiedScar;
import org.seriatim.assessment.domain.ClassifyScars;
import org.seriatim.assessment.domain.ScarStateDetails;
import org.seriatim.assessment.domain.ScarStateId;
import org.seriatim.assessment.domain.StateRefused;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * What became of scars that were not simply measured is listed, entered and corrected.
 */
@Controller
class ScarStateController {

	private static final String FORM = "assessment/scar-states-form";

	private final ClassifyScars classify;

	private final TrackedScars scars;

	private final PatientDirectory patients;

	private final StaffDirectory directory;

	private final CurrentStaff staff;

	private final Clock clock;

	ScarStateController(ClassifyScars classify, TrackedScars scars, PatientDirectory patients, StaffDirectory directory,
			CurrentStaff staff, Clock clock) {
		this.classify = classify;
		this.scars = scars;
		this.patients = patients;
		this.directory = directory;
		this.staff = staff;
		this.clock = clock;
	}

	/** A scar of which something can be said. */
	record ScarName(String label, String type, String region) {

		static ScarName of(TrackedScar scar) {
			return new ScarName(scar.label(), scar.type().word(), scar.region().word());
		}

	}

	/**
	 * What was said of a scar.
	 *
	 * @param history its earlier versions; none while there are none
	 */
	record StateLine(String id, String day, String label, String state, String into, @Nullable String why, String by,
			@Nullable String history) {
	}

	@GetMapping("/patients/{patient}/scar-states")
	ModelAndView list(@PathVariable PatientId patient) {
		var labels = labels(patient);
		return new ModelAndView("assessment/scar-states", "patient", this.patients.open(patient))
			.addObject("states", this.classify.of(patient).stream().map((state) -> line(state, labels)).toList())
			.addObject("mayEdit", this.staff.has(Role.PRACTITIONER) || this.staff.has(Role.CLINIC_LEAD));
	}

	private StateLine line(ClassifiedScar state, Map<ScarId, String> labels) {
		var known = state.details();
		return new StateLine(state.id().toString(), Written.day(state.day().assessedOn()),
				labels.getOrDefault(state.scar(), "\u2013"), known.standing().word(), into(known.into(), labels),
				known.reason(), this.directory.byId(state.day().assessor()).map(StaffMember::name).orElse("\u2013"),
				(state.version() > 0) ? "/history/scar_state/" + state.id() : null);
	}

	@GetMapping("/patients/{patient}/scar-states/new")
	ModelAndView askForNew(@PathVariable PatientId patient) {
		this.patients.open(patient);
		var rows = this.scars.of(patient).stream().map((scar) -> StateRow.empty(scar.id().toString())).toList();
		var form = new StatesForm(LocalDate.now(this.clock).toString(), rows, null, null);
		return page(new ModelAndView(FORM, "form", form), patient, form, null);
	}

	@PostMapping("/patients/{patient}/scar-states/new")
	ModelAndView record(@PathVariable PatientId patient, @Valid @ModelAttribute("form") @Nullable StatesForm form,
			BindingResult errors, RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		var sent = understood(form);
		var day = AssessmentReading.day(sent.assessedOn(), LocalDate.now(this.clock), errors);
		var said = read(patient, sent, errors);
		if (said.isEmpty() && !errors.hasErrors()) {
			errors.reject("assessment.state.nothing");
		}
		if (!errors.hasErrors()) {
			try {
				this.classify.of(patient, new AssessmentDay(Objects.requireNonNull(day), me()), said);
				flash.addFlashAttribute("notice", "assessment.state.saved");
				return new ModelAndView("redirect:/patients/" + patient + "/scar-states");
			}
			catch (StateRefused ex) {
				show(ex, sent, errors);
			}
		}
		return page(new ModelAndView(FORM, HttpStatus.UNPROCESSABLE_CONTENT), patient, sent, null);
	}

	@GetMapping("/scar-states/{state}/edit")
	ModelAndView edit(@PathVariable ScarStateId state) {
		var known = known(state);
		this.patients.open(known.patient());
		var row = StateRow.from(known, into(known.details().into(), labels(known.patient())));
		var form = new StatesForm(known.day().assessedOn().toString(), List.of(row), null, known.version());
		return page(new ModelAndView(FORM, "form", form), known.patient(), form, known);
	}

	@PostMapping("/scar-states/{state}/edit")
	ModelAndView correct(@PathVariable ScarStateId state, @Valid @ModelAttribute("form") @Nullable StatesForm form,
			BindingResult errors, RedirectAttributes flash) {
		var known = known(state);
		var sent = understood(form);
		var said = read(known.patient(), sent, errors);
		if (sent.reason() == null) {
			errors.rejectValue("reason", "assessment.reason.missing");
		}
		if (sent.rows().size() != 1 || !known.scar().toString().equals(sent.rows().get(0).scar())) {
			throw new ResponseStatusException(HttpStatus.BAD_REQUEST);
		}
		if (said.isEmpty() && !errors.hasErrors()) {
			errors.rejectValue("rows[0].state", "assessment.state.missing");
		}
		if (!errors.hasErrors()) {
			try {
				this.classify.correct(state, sent.version(), Objects.requireNonNull(said.get(known.scar())),
						Objects.requireNonNull(sent.reason()));
				flash.addFlashAttribute("notice", "assessment.state.corrected");
				return new ModelAndView("redirect:/patients/" + known.patient() + "/scar-states");
			}
			catch (StateRefused ex) {
				show(ex, sent, errors);
			}
		}
		return page(new ModelAndView(FORM, HttpStatus.UNPROCESSABLE_CONTENT), known.patient(), sent, known);
	}

	/** What the form says of the scars of which it says something. */
	private Map<ScarId, ScarStateDetails> read(PatientId patient, StatesForm form, BindingResult errors) {
		var own = own(patient);
		Map<String, ScarId> byLabel = own.values()
			.stream()
			.collect(Collectors.toMap((scar) -> scar.label().toLowerCase(Locale.ROOT), TrackedScar::id,
					(one, other) -> one));
		var said = new LinkedHashMap<ScarId, ScarStateDetails>();
		for (int at = 0; at < form.rows().size(); at++) {
			var row = form.rows().get(at);
			var scar = Optional.ofNullable(row.scar())
				.map(own::get)
				.orElseThrow(() -> new ResponseStatusException(HttpStatus.BAD_REQUEST));
			if (row.lacksState()) {
				errors.rejectValue("rows[" + at + "].state", "assessment.state.missing");
			}
			if (row.state() == null || errors.hasFieldErrors("rows[" + at + "].*")) {
				continue;
			}
			var into = new ArrayList<ScarId>();
			for (var label : (row.into() != null) ? row.into().split(",") : new String[0]) {
				var other = byLabel.get(label.strip().toLowerCase(Locale.ROOT));
				if (other == null) {
					errors.rejectValue("rows[" + at + "].into", "assessment.state.into.unknown",
							new Object[] { label.strip() }, null);
				}
				else if (!into.contains(other)) {
					into.add(other);
				}
			}
			said.put(scar.id(),
					new ScarStateDetails(ScarStanding.valueOf(row.state().toUpperCase(Locale.ROOT)), into, row.why()));
		}
		return said;
	}

	private static void show(StateRefused refused, StatesForm form, BindingResult errors) {
		for (var fault : refused.faults()) {
			var code = "assessment.state." + fault.rule().name().toLowerCase(Locale.ROOT).replace('_', '-');
			if (fault.scar() == null) {
				errors.rejectValue("assessedOn", code);
				continue;
			}
			for (int at = 0; at < form.rows().size(); at++) {
				if (fault.scar().toString().equals(form.rows().get(at).scar())) {
					var field = fault.rule().field().equals("reason") ? "why" : fault.rule().field();
					errors.rejectValue("rows[" + at + "]." + field, code);
				}
			}
		}
	}

	private ModelAndView page(ModelAndView page, PatientId patient, StatesForm form, @Nullable ClassifiedScar edited) {
		var own = own(patient);
		return page.addObject("patient", this.patients.requireExisting(patient))
			.addObject("edited", (edited != null) ? edited.id() : null)
			.addObject("day", (edited != null) ? Written.day(edited.day().assessedOn()) : null)
			.addObject("names",
					form.rows()
						.stream()
						.map((row) -> ScarName.of(Objects.requireNonNull(own.get(row.scar()))))
						.toList())
			.addObject("rowNames",
					own.values().stream().collect(Collectors.toMap((scar) -> scar.id().toString(), TrackedScar::label)))
			.addObject("states", Choice.ofWords("scar-state", ScarStanding.values()))
			.addObject("today", LocalDate.now(this.clock));
	}

	private Map<String, TrackedScar> own(PatientId patient) {
		return this.scars.of(patient)
			.stream()
			.collect(Collectors.toMap((scar) -> scar.id().toString(), Function.identity()));
	}

	private Map<ScarId, String> labels(PatientId patient) {
		return this.scars.of(patient).stream().collect(Collectors.toMap(TrackedScar::id, TrackedScar::label));
	}

	private static String into(List<ScarId> into, Map<ScarId, String> labels) {
		return into.stream().map((scar) -> labels.getOrDefault(scar, "\u2013")).collect(Collectors.joining(", "));
	}

	private static StatesForm understood(@Nullable StatesForm form) {
		if (form == null) {
			throw new ResponseStatusException(HttpStatus.BAD_REQUEST);
		}
		return form;
	}

	private ClassifiedScar known(ScarStateId state) {
		return this.classify.byId(state).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	private StaffId me() {
		return this.staff.id().orElseThrow(() -> new ResponseStatusException(HttpStatus.FORBIDDEN));
	}

}
