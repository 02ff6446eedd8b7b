package org.seriatim.assessment.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Ecca;
import org.seriatim.assessment.FaceCount;
import org.seriatim.assessment.FaceCounts;
import org.seriatim.assessment.domain.AssessedDays;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Written;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;

/**
 * Shows on which days a patient was assessed, and everything that was entered of one day.
 */
@Controller
class AssessedDayController {

	private final AssessedDays days;

	private final FaceCounts counts;

	private final PatientDirectory patients;

	AssessedDayController(AssessedDays days, FaceCounts counts, PatientDirectory patients) {
		this.days = days;
		this.counts = counts;
		this.patients = patients;
	}

	/** A line of the list of days. */
	record DayLine(LocalDate day, String written, String assessor, int scars, int repeats, int pores, int scales,
			int counts, @Nullable Integer ecca) {
	}

	@GetMapping("/patients/{patient}/assessments")
	ModelAndView list(@PathVariable PatientId patient) {
		var opened = this.patients.open(patient);
		var scored = this.counts.of(patient);
		return new ModelAndView("assessment/assessed-days", "patient", opened).addObject("days", this.days.of(patient)
			.stream()
			.map((day) -> new DayLine(day.day(), Written.day(day.day()), day.assessorName(), day.scars(), day.repeats(),
					day.pores(), day.scales(), day.counts(),
					count(scored, day.day(), day.assessor()).flatMap(FaceCount::ecca).map(Ecca::total).orElse(null)))
			.toList());
	}

	@GetMapping("/patients/{patient}/assessments/{day}")
	ModelAndView day(@PathVariable PatientId patient, @PathVariable LocalDate day) {
		var opened = this.patients.open(patient);
		var assessors = this.days.of(patient).stream().filter((summary) -> summary.day().equals(day)).toList();
		if (assessors.isEmpty()) {
			throw new ResponseStatusException(HttpStatus.NOT_FOUND);
		}
		var scars = this.days.scarsOn(patient, day);
		var pores = this.days.poresOn(patient, day);
		var scales = this.days.scalesOn(patient, day);
		var counted = this.days.countsOn(patient, day);
		var scored = this.counts.of(patient);
		return new ModelAndView("assessment/assessed-day", "patient", opened).addObject("day", day)
			.addObject("written", Written.day(day))
			.addObject("assessors",
					assessors.stream()
						.map((summary) -> AssessedDay.of(summary.assessor(), summary.assessorName(), scars, pores,
								scales, counted, count(scored, day, summary.assessor()).orElse(null)))
						.toList());
	}

	private static Optional<FaceCount> count(List<FaceCount> counts, LocalDate day, StaffId assessor) {
		return counts.stream()
			.filter((count) -> count.assessedOn().equals(day) && count.assessor().equals(assessor))
			.findFirst();
	}

}
