package org.seriatim.assessment.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.FaceCount;
import org.seriatim.assessment.FaceCounts;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.domain.AlreadyAssessed;
import org.seriatim.assessment.domain.AssessmentDay;
import org.seriatim.assessment.domain.CountCell;
import org.seriatim.assessment.domain.RecordCounts;
import org.seriatim.assessment.domain.RecordCounts.Counted;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.DecimalText;
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
 * Counts scars by region and type, and corrects a count. An empty cell was not counted, 0
 * was.
 */
@Controller
class CountsController {

	private static final String PAGE = "assessment/counts-form";

	private final RecordCounts record;

	private final FaceCounts counts;

	private final PatientDirectory patients;

	private final StaffDirectory directory;

	private final CurrentStaff staff;

	private final Clock clock;

	CountsController(RecordCounts record, FaceCounts counts, PatientDirectory patients, StaffDirectory directory,
			CurrentStaff staff, Clock clock) {
		this.record = record;
		this.counts = counts;
		this.patients = patients;
		this.directory = directory;
		this.staff = staff;
		this.clock = clock;
	}

	/** A column of the grid. */
	record Column(CountedType type, boolean scored) {

		public String word() {
			return this.type.word();
		}

		public String component() {
			return CountRow.component(this.type);
		}

	}

	/** A line of the grid: its region, and what was last counted there, by column. */
	record Line(String region, List<@Nullable Integer> last) {
	}

	@GetMapping("/patients/{patient}/counts")
	ModelAndView newCount(@PathVariable PatientId patient) {
		this.patients.open(patient);
		var form = CountsForm.from(LocalDate.now(this.clock), Map.of(), null);
		return page(new ModelAndView(PAGE, "form", form), patient, form, null);
	}

	@PostMapping("/patients/{patient}/counts")
	ModelAndView record(@PathVariable PatientId patient, @Valid @ModelAttribute("form") @Nullable CountsForm form,
			BindingResult errors, RedirectAttributes flash) {
		this.patients.requireExisting(patient);
		var sent = understood(form);
		var day = AssessmentReading.day(sent.assessedOn(), LocalDate.now(this.clock), errors);
		var cells = cells(sent, errors);
		if (cells.isEmpty() && !errors.hasErrors()) {
			errors.reject("assessment.counts.nothing");
		}
		if (day == null || errors.hasErrors()) {
			return page(refused(), patient, sent, null);
		}
		try {
			this.record.of(patient, new AssessmentDay(day, me()), cells);
		}
		catch (AlreadyAssessed ex) {
			refuse(sent, ex, errors);
			return page(refused(), patient, sent, null);
		}
		flash.addFlashAttribute("notice", "assessment.counts.saved");
		return overview(patient, day);
	}

	@GetMapping("/patients/{patient}/counts/{day}/{assessor}/edit")
	ModelAndView edit(@PathVariable PatientId patient, @PathVariable LocalDate day, @PathVariable StaffId assessor) {
		this.patients.open(patient);
		var counted = counted(patient, day, assessor);
		var form = CountsForm.from(day, counted.cells(), counted.version());
		return page(new ModelAndView(PAGE, "form", form), patient, form, new AssessmentDay(day, assessor));
	}

	@PostMapping("/patients/{patient}/counts/{day}/{assessor}/edit")
	ModelAndView correct(@PathVariable PatientId patient, @PathVariable LocalDate day, @PathVariable StaffId assessor,
			@Valid @ModelAttribute("form") @Nullable CountsForm form, BindingResult errors, RedirectAttributes flash) {
		var corrected = new AssessmentDay(day, assessor);
		var before = counted(patient, day, assessor);
		var sent = understood(form);
		var newDay = AssessmentReading.day(sent.assessedOn(), LocalDate.now(this.clock), errors);
		var cells = cells(sent, errors);
		if (before.version().equals(sent.version())) {
			refuseToEmpty(sent, before.cells(), errors);
		}
		var reason = sent.reason();
		if (reason == null) {
			errors.rejectValue("reason", "assessment.reason.missing");
		}
		if (newDay == null || reason == null || errors.hasErrors()) {
			return page(refused(), patient, sent, corrected);
		}
		try {
			this.record.correct(patient, corrected, sent.version(), newDay, cells, reason);
		}
		catch (AlreadyAssessed ex) {
			refuse(sent, ex, errors);
			return page(refused(), patient, sent, corrected);
		}
		flash.addFlashAttribute("notice", "assessment.corrected");
		return overview(patient, newDay);
	}

	private static ModelAndView overview(PatientId patient, LocalDate day) {
		return new ModelAndView("redirect:/patients/" + patient + "/assessments/" + day);
	}

	private static CountsForm understood(@Nullable CountsForm form) {
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

	private Counted counted(PatientId patient, LocalDate day, StaffId assessor) {
		return this.record.counted(patient, new AssessmentDay(day, assessor))
			.orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	/** What was counted, where it is said the zeros of the whole face with it. */
	private static Map<CountCell, Integer> cells(CountsForm form, BindingResult errors) {
		var cells = new HashMap<CountCell, Integer>();
		if (form.isOfWholeFace()) {
			FaceCount.faceRegions()
				.forEach((region) -> FaceCount.scoredTypes()
					.forEach((type) -> cells.put(new CountCell(region, type), 0)));
		}
		for (int at = 0; at < form.regions().size(); at++) {
			var row = form.regions().get(at);
			var region = region(row);
			if (!errors.hasFieldErrors("regions[" + at + "].*")) {
				for (CountedType type : CountedType.values()) {
					var count = DecimalText.whole(row.of(type));
					if (count != null) {
						cells.put(new CountCell(region, type), count);
					}
				}
			}
		}
		return cells;
	}

	private static void refuseToEmpty(CountsForm form, Map<CountCell, Integer> before, BindingResult errors) {
		for (int at = 0; at < form.regions().size(); at++) {
			var row = form.regions().get(at);
			for (CountedType type : CountedType.values()) {
				if (row.of(type) == null && before.containsKey(new CountCell(region(row), type))) {
					errors.rejectValue("regions[" + at + "]." + CountRow.component(type), "assessment.counts.kept");
				}
			}
		}
	}

	private static void refuse(CountsForm form, AlreadyAssessed twice, BindingResult errors) {
		if (twice.what().isEmpty()) {
			errors.rejectValue("assessedOn", "assessment.day.taken");
			return;
		}
		for (int at = 0; at < form.regions().size(); at++) {
			for (CountedType type : CountedType.values()) {
				if (twice.what().contains(new CountCell(region(form.regions().get(at)), type))) {
					errors.rejectValue("regions[" + at + "]." + CountRow.component(type), "assessment.counts.twice");
				}
			}
		}
	}

	private static Region region(CountRow row) {
		return Arrays.stream(Region.values())
			.filter((region) -> region.word().equals(row.region()))
			.findFirst()
			.orElseThrow(() -> new ResponseStatusException(HttpStatus.BAD_REQUEST));
	}

	/**
	 * @param corrected whose count of which day is corrected, none while a new one is
	 * entered
	 */
	private ModelAndView page(ModelAndView page, PatientId patient, CountsForm form,
			@Nullable AssessmentDay corrected) {
		var today = LocalDate.now(this.clock);
		var before = (corrected != null) ? corrected.assessedOn() : today;
		var last = new HashMap<CountCell, Integer>();
		this.counts.of(patient)
			.stream()
			.filter((count) -> count.assessedOn().isBefore(before))
			.forEach((count) -> count.counts()
				.forEach((region, ofTypes) -> ofTypes
					.forEach((type, number) -> last.put(new CountCell(region, type), number))));
		var columns = Arrays.stream(CountedType.values())
			.map((type) -> new Column(type, FaceCount.scoredTypes().contains(type)))
			.toList();
		return page.addObject("patient", this.patients.requireExisting(patient))
			.addObject("corrected", corrected)
			.addObject("assessor",
					this.directory.byId((corrected != null) ? corrected.assessor() : me())
						.map(StaffMember::name)
						.orElse(""))
			.addObject("today", today)
			.addObject("columns", columns)
			.addObject("rowNames",
					Arrays.stream(Region.values())
						.collect(Collectors.toMap(Region::word, (region) -> "region." + region.word())))
			.addObject("lines", form.regions().stream().map((row) -> line(region(row), columns, last)).toList());
	}

	private static Line line(Region region, List<Column> columns, Map<CountCell, Integer> last) {
		var counts = new ArrayList<@Nullable Integer>();
		columns.forEach((column) -> counts.add(last.get(new CountCell(region, column.type()))));
		return new Line(region.word(), counts);
	}

}
