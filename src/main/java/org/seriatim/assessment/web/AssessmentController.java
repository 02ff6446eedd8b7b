package org.seriatim.assessment.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.assessment.domain.AlreadyAssessed;
import org.seriatim.assessment.domain.AssessmentDay;
import org.seriatim.assessment.domain.EarlierAssessments;
import org.seriatim.assessment.domain.EarlierScar;
import org.seriatim.assessment.domain.EnteredVisit;
import org.seriatim.assessment.domain.NoFirstRating;
import org.seriatim.assessment.domain.RecordAssessment;
import org.seriatim.assessment.domain.ScaleItem;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Choice;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * Assesses a visit on one page: all tracked scars, pores by region, the whole face; and
 * corrects what was entered. Blinded second ratings use the same page without anything
 * earlier on it.
 */
@Controller
class AssessmentController {

	private static final String PAGE = "assessment/assessment-form";

	private final RecordAssessment record;

	private final EarlierAssessments earlier;

	private final TrackedScars scars;

	private final PatientDirectory patients;

	private final StaffDirectory directory;

	private final CurrentStaff staff;

	private final Clock clock;

	AssessmentController(RecordAssessment record, EarlierAssessments earlier, TrackedScars scars,
			PatientDirectory patients, StaffDirectory directory, CurrentStaff staff, Clock clock) {
		this.record = record;
		this.earlier = earlier;
		this.scars = scars;
		this.patients = patients;
		this.directory = directory;
		this.staff = staff;
		this.clock = clock;
	}

	@GetMapping("/patients/{patient}/assessments/new")
	ModelAndView newAssessment(@PathVariable PatientId patient, @RequestParam(defaultValue = "false") boolean repeat) {
		this.patients.open(patient);
		var today = LocalDate.now(this.clock);
		var form = AssessmentForm.empty(today, repeat ? ratedBy(me(), patient, today) : this.scars.of(patient), repeat,
				this.earlier.methodBefore(patient, today).map(DepthMethod::word).orElse(null));
		return page(new ModelAndView(PAGE, "form", form), patient, form, repeat, null);
	}

	@PostMapping("/patients/{patient}/assessments/new")
	ModelAndView record(@PathVariable PatientId patient, @RequestParam(defaultValue = "false") boolean repeat,
			@Valid @ModelAttribute("form") @Nullable AssessmentForm form, BindingResult errors,
			RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		var sent = understood(form);
		var reading = new AssessmentReading(sent, this.scars.of(patient), LocalDate.now(this.clock), errors);
		var entry = reading.entry();
		if (entry.isPresent() && entry.get().isEmpty()) {
			errors.reject("assessment.nothing");
		}
		if (entry.isEmpty() || errors.hasErrors()) {
			return page(refused(), patient, sent, repeat, null);
		}
		try {
			this.record.of(patient, new AssessmentDay(reading.day(), me()), repeat, entry.get());
		}
		catch (AlreadyAssessed ex) {
			reading.refuse(ex);
			return page(refused(), patient, sent, repeat, null);
		}
		catch (NoFirstRating ex) {
			reading.refuse(ex);
			return page(refused(), patient, sent, repeat, null);
		}
		flash.addFlashAttribute("notice", "assessment.saved");
		return overview(patient, reading.day());
	}

	@GetMapping("/patients/{patient}/assessments/{day}/{assessor}/edit")
	ModelAndView edit(@PathVariable PatientId patient, @PathVariable LocalDate day, @PathVariable StaffId assessor,
			@RequestParam(defaultValue = "false") boolean repeat) {
		this.patients.open(patient);
		var entered = entered(patient, day, assessor, repeat);
		var scars = repeat ? ratedBy(assessor, patient, day) : this.scars.of(patient);
		var form = AssessmentForm.from(day, scars, entered.entry(), repeat, entered.version());
		return page(new ModelAndView(PAGE, "form", form), patient, form, repeat, new AssessmentDay(day, assessor));
	}

	@PostMapping("/patients/{patient}/assessments/{day}/{assessor}/edit")
	ModelAndView correct(@PathVariable PatientId patient, @PathVariable LocalDate day, @PathVariable StaffId assessor,
			@RequestParam(defaultValue = "false") boolean repeat,
			@Valid @ModelAttribute("form") @Nullable AssessmentForm form, BindingResult errors,
			RedirectAttributes flash) {
		var before = entered(patient, day, assessor, repeat);
		var corrected = new AssessmentDay(day, assessor);
		var sent = understood(form);
		var reading = new AssessmentReading(sent, this.scars.of(patient), LocalDate.now(this.clock), errors);
		if (before.version().equals(sent.version())) {
			reading.refuseToEmpty(before.entry());
		}
		if (sent.reason() == null) {
			errors.rejectValue("reason", "assessment.reason.missing");
		}
		var entry = reading.entry();
		if (entry.isEmpty() || sent.reason() == null) {
			return page(refused(), patient, sent, repeat, corrected);
		}
		try {
			this.record.correct(patient, corrected, repeat, sent.version(), reading.day(), entry.get(), sent.reason());
		}
		catch (AlreadyAssessed ex) {
			reading.refuse(ex);
			return page(refused(), patient, sent, repeat, corrected);
		}
		catch (NoFirstRating ex) {
			reading.refuse(ex);
			return page(refused(), patient, sent, repeat, corrected);
		}
		flash.addFlashAttribute("notice", "assessment.corrected");
		return overview(patient, reading.day());
	}

	private static ModelAndView overview(PatientId patient, LocalDate day) {
		return new ModelAndView("redirect:/patients/" + patient + "/assessments/" + day);
	}

	private static AssessmentForm understood(@Nullable AssessmentForm form) {
		if (form == null) {
			throw new ResponseStatusException(HttpStatus.BAD_REQUEST);
		}
		return form;
	}

	private static ModelAndView refused() {
		return new ModelAndView(PAGE, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private StaffId me() {
		return this.staff.id().orElseThrow(() -> new ResponseStatusException(HttpStatus.FORBIDDEN));
	}

	private EnteredVisit entered(PatientId patient, LocalDate day, StaffId assessor, boolean repeat) {
		return this.record.entered(patient, new AssessmentDay(day, assessor), repeat)
			.orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	/** The scars that have a first rating of that day, which a second one may follow. */
	private List<TrackedScar> ratedBy(StaffId assessor, PatientId patient, LocalDate day) {
		var rated = this.record.entered(patient, new AssessmentDay(day, assessor), false)
			.map((visit) -> visit.entry().scars().keySet())
			.orElse(Set.of());
		return this.scars.of(patient).stream().filter((scar) -> rated.contains(scar.id())).toList();
	}

	/**
	 * @param corrected whose assessment of which day is corrected, none while a new one
	 * is entered
	 */
	private ModelAndView page(ModelAndView page, PatientId patient, AssessmentForm form, boolean repeat,
			@Nullable AssessmentDay corrected) {
		var today = LocalDate.now(this.clock);
		var day = (corrected != null) ? corrected.assessedOn() : today;
		var scars = this.scars.of(patient)
			.stream()
			.collect(Collectors.toMap((scar) -> scar.id().toString(), Function.identity()));
		var earlierScars = repeat ? Map.<ScarId, EarlierScar>of() : this.earlier.scarsBefore(patient, day);
		var earlierPores = this.earlier.poresBefore(patient, day);
		var earlierScales = this.earlier.scalesBefore(patient, day);
		return page.addObject("patient", this.patients.requireExisting(patient))
			.addObject("repeat", repeat)
			.addObject("rowNames", rowNames(scars.values()))
			.addObject("corrected", corrected)
			.addObject("assessor",
					this.directory.byId((corrected != null) ? corrected.assessor() : me())
						.map(StaffMember::name)
						.orElse(""))
			.addObject("today", today)
			.addObject("scarLines",
					form.scars()
						.stream()
						.map((row) -> scars.get(Objects.requireNonNull(row.scar())))
						.map((scar) -> ScarLine.of(scar, earlierScars.get(scar.id())))
						.toList())
			.addObject("poreLines",
					form.pores()
						.stream()
						.map(AssessmentReading::region)
						.map((region) -> PoreLine.of(region, earlierPores.get(region)))
						.toList())
			.addObject("poresOpen", !earlierPores.isEmpty() || !form.pores().stream().allMatch(PoreRow::isEmpty))
			.addObject("scaleLines",
					form.scales()
						.stream()
						.map(AssessmentReading::item)
						.map((item) -> ScaleLine.of(item, earlierScales.get(item)))
						.toList())
			.addObject("methods", Choice.ofWords("depth-method", DepthMethod.values()))
			.addObject("classes", Choice.ofWords("depth-class", DepthClass.values()));
	}

	/**
	 * What the lines of the form are called: a scar by its label, the others by messages.
	 */
	private static Map<String, String> rowNames(Collection<TrackedScar> scars) {
		var names = new HashMap<String, String>();
		scars.forEach((scar) -> names.put(scar.id().toString(), scar.label()));
		for (Region region : Region.values()) {
			names.put(region.word(), "region." + region.word());
		}
		ScaleItem.all().forEach((item) -> names.put(ScaleRow.key(item), "scale." + ScaleRow.key(item)));
		return names;
	}

}
