package org.seriatim.assessment.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import java.util.stream.Collectors;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.assessment.domain.AlreadyAssessed;
import org.seriatim.assessment.domain.AssessmentDay;
import org.seriatim.assessment.domain.DueRepeats;
import org.seriatim.assessment.domain.NoFirstRating;
import org.seriatim.assessment.domain.RecordAssessment;
import org.seriatim.assessment.domain.ScarMeasurement;
import org.seriatim.assessment.domain.VisitEntry;
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
 * Rates scars blindly a second time on the day of their first rating: the assessor's own,
 * or beside another assessor. The page shows no earlier value and no photograph, and the
 * scars stand in an order that tells nothing.
 */
@Controller
class RepeatRatingController {

	private static final String PAGE = "assessment/repeat-rating";

	private final DueRepeats due;

	private final RecordAssessment record;

	private final TrackedScars scars;

	private final PatientDirectory patients;

	private final CurrentStaff staff;

	private final Clock clock;

	RepeatRatingController(DueRepeats due, RecordAssessment record, TrackedScars scars, PatientDirectory patients,
			CurrentStaff staff, Clock clock) {
		this.due = due;
		this.record = record;
		this.scars = scars;
		this.patients = patients;
		this.staff = staff;
		this.clock = clock;
	}

	@GetMapping("/patients/{patient}/repeat-rating")
	ModelAndView ask(@PathVariable PatientId patient, @RequestParam(defaultValue = "false") boolean second) {
		this.patients.open(patient);
		var today = LocalDate.now(this.clock);
		var own = own(patient);
		var wanted = (second ? this.due.othersOf(patient, me(), today) : this.due.ownOf(patient, me(), today)).stream()
			.map(own::get)
			.filter(Objects::nonNull)
			.toList();
		var form = AssessmentForm.from(today, wanted, new VisitEntry(Map.of(), Map.of(), Map.of()), true, null);
		return page(new ModelAndView(PAGE, "form", form), patient, form, second);
	}

	@PostMapping("/patients/{patient}/repeat-rating")
	ModelAndView record(@PathVariable PatientId patient, @RequestParam(defaultValue = "false") boolean second,
			@Valid @ModelAttribute("form") @Nullable AssessmentForm form, BindingResult errors,
			RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		if (form == null) {
			throw new ResponseStatusException(HttpStatus.BAD_REQUEST);
		}
		var today = LocalDate.now(this.clock);
		var sent = new AssessmentForm(today.toString(), form.usualMethod(), form.scars(), List.of(), List.of(), null,
				null);
		var reading = new AssessmentReading(sent, this.scars.of(patient), today, errors);
		var entry = reading.entry();
		if (entry.isPresent() && entry.get().scars().values().stream().allMatch(ScarMeasurement::isEmpty)) {
			errors.reject("assessment.nothing");
		}
		if (entry.isPresent() && !errors.hasErrors()) {
			try {
				this.record.blinded(patient, new AssessmentDay(today, me()), !second, entry.get());
				flash.addFlashAttribute("notice", "assessment.repeat.saved");
				return new ModelAndView("redirect:/repeat-ratings");
			}
			catch (AlreadyAssessed ex) {
				reading.refuse(ex, "depthMm");
			}
			catch (NoFirstRating ex) {
				reading.refuse(ex, "depthMm");
			}
		}
		return page(new ModelAndView(PAGE, HttpStatus.UNPROCESSABLE_CONTENT), patient, sent, second);
	}

	private ModelAndView page(ModelAndView page, PatientId patient, AssessmentForm form, boolean second) {
		var own = own(patient).entrySet()
			.stream()
			.collect(Collectors.toMap((entry) -> entry.getKey().toString(), Map.Entry::getValue));
		return page.addObject("patient", this.patients.requireExisting(patient))
			.addObject("second", second)
			.addObject("scarLines",
					form.scars()
						.stream()
						.map((row) -> own.get(Objects.requireNonNull(row.scar())))
						.map((scar) -> ScarLine.of(scar, null))
						.toList())
			.addObject("methods", Choice.ofWords("depth-method", DepthMethod.values()));
	}

	private Map<ScarId, TrackedScar> own(PatientId patient) {
		return this.scars.of(patient).stream().collect(Collectors.toMap(TrackedScar::id, Function.identity()));
	}

	private StaffId me() {
		return this.staff.id().orElseThrow(() -> new ResponseStatusException(HttpStatus.FORBIDDEN));
	}

}
